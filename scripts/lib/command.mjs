import { spawn } from "node:child_process";
import { root } from "./root.mjs";

/**
 * @typedef {{ code: number, output: string, stdout: string }} Finished
 * @typedef {{ cwd?: string, env?: NodeJS.ProcessEnv, quiet?: boolean, shell?: boolean }} Options
 */

/**
 * Runs a program to its end. Its output is passed on as it comes, or kept back when `quiet`, and is returned either way:
 * all of it as `output`, standard output alone as `stdout`.
 * @param {string} program
 * @param {string[]} args
 * @param {Options} [options]
 * @returns {Promise<Finished>} code -1 when the program could not be started
 */
export function run(program, args, options = {}) {
  return new Promise((resolve) => {
    const child = spawn(program, args, {
      cwd: options.cwd ?? root,
      env: options.env ?? process.env,
      shell: options.shell ?? false,
      stdio: ["ignore", "pipe", "pipe"],
    });
    let output = "";
    let stdout = "";
    /** @param {Buffer} chunk */
    const take = (chunk) => {
      output += chunk.toString();
      if (!options.quiet) process.stdout.write(chunk);
    };
    child.stdout.on("data", (/** @type {Buffer} */ chunk) => {
      stdout += chunk.toString();
      take(chunk);
    });
    child.stderr.on("data", take);
    child.on("error", (error) => resolve({ code: -1, output: `${output}${error.message}\n`, stdout }));
    child.on("close", (code) => resolve({ code: code ?? -1, output, stdout }));
  });
}

/**
 * Runs a JavaScript file with this Node.
 * @param {string[]} args the file first
 * @param {Options} [options]
 */
export function runNode(args, options) {
  return run(process.execPath, args, options);
}

/**
 * Runs npm. Inside an npm script its own file is known, which spares Windows a shell.
 * @param {string[]} args
 * @param {Options} [options]
 */
export function runNpm(args, options = {}) {
  const npmFile = process.env["npm_execpath"];
  if (npmFile?.endsWith("js")) return runNode([npmFile, ...args], options);
  return run("npm", args, { ...options, shell: process.platform === "win32" });
}
