import { accessSync, constants, readdirSync } from "node:fs";
import path from "node:path";
import { installDebian, isDebianRoot } from "./debian.mjs";

/**
 * The two JavaScript engines, other than Node's own, in which the same bits must come out.
 * @typedef {{ name: string, engine: string, setting: string, programs: string[], debian: string, args: string[] }} Shell
 */

/** @type {Shell[]} */
export const shells = [
  {
    name: "js102",
    engine: "SpiderMonkey",
    setting: "BRAKEYARD_JS102",
    programs: ["js102"],
    debian: "libmozjs-102-dev",
    args: [],
  },
  {
    name: "jsc",
    engine: "JavaScriptCore",
    setting: "BRAKEYARD_JSC",
    programs: ["jsc"],
    debian: "libjavascriptcoregtk-4.0-bin",
    args: [],
  },
];

/** @param {string} file */
function isThere(file) {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Debian puts some shells into a folder of their library, outside PATH. */
function libraryFolders() {
  try {
    const lib = "/usr/lib";
    const machines = readdirSync(lib).filter((name) => name.endsWith("-linux-gnu"));
    return machines.flatMap((machine) =>
      ["webkit2gtk-4.0", "webkit2gtk-4.1"].map((name) => path.join(lib, machine, name)),
    );
  } catch {
    return [];
  }
}

/**
 * Where a shell stands on this machine, if anywhere.
 * @param {Shell} shell
 * @returns {string | undefined}
 */
export function findShell(shell) {
  const chosen = process.env[shell.setting];
  if (chosen) return isThere(chosen) ? chosen : undefined;
  const folders = [...(process.env["PATH"] ?? "").split(path.delimiter), ...libraryFolders()].filter(
    (one) => one !== "",
  );
  return folders.flatMap((folder) => shell.programs.map((program) => path.join(folder, program))).find(isThere);
}

/** In continuous integration the shells are installed, so that nothing is left out there. */
export async function ensureShells() {
  if (!process.env["CI"] || !isDebianRoot()) return;
  const missing = shells.filter((shell) => !findShell(shell)).map((shell) => shell.debian);
  if (missing.length > 0) await installDebian(missing);
}
