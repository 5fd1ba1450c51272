import { execFileSync } from "node:child_process";
import { build } from "esbuild";
import { findShell, shells } from "../../scripts/lib/shells.mjs";

/** A JavaScript engine in which a script can be run. */
export interface Engine {
  readonly name: string;
  /** Program and arguments before the script's file; undefined when it is not on this machine. */
  readonly command: readonly [string, ...string[]] | undefined;
  /** What a person can install to have it. */
  readonly remedy: string;
}

/** Node's own engine first, then the shells. */
export function engines(): Engine[] {
  const node: Engine = { name: "V8", command: [process.execPath], remedy: "" };
  const others = shells.map((shell): Engine => {
    const program = findShell(shell);
    const remedy = `no ${shell.name} on this machine (Debian: ${shell.debian}; or set ${shell.setting})`;
    return { name: shell.engine, command: program ? [program] : undefined, remedy };
  });
  return [node, ...others];
}

/** Bundles a script so that any engine can run it: one file, nothing newer than ES2022. */
export async function bundleScript(entry: string, outfile: string): Promise<void> {
  await build({ entryPoints: [entry], outfile, bundle: true, format: "iife", target: "es2022", logLevel: "warning" });
}

/** Runs a script and returns what it printed, line by line. */
export function linesFrom(engine: Engine, script: string): string[] {
  const [program, ...args] = engine.command ?? [];
  if (!program) throw new Error(engine.remedy);
  const output = execFileSync(program, [...args, script], { encoding: "utf8", timeout: 240_000, maxBuffer: 2 ** 24 });
  return output.trim().split(/\r?\n/);
}
