import { readFileSync } from "node:fs";
import { runNpm } from "./command.mjs";
import { inRoot } from "./root.mjs";
import { PlainError, say } from "./say.mjs";

/**
 * @typedef {{ version?: string, optional?: boolean, link?: boolean }} LockEntry
 * @typedef {{ packages?: Record<string, LockEntry> }} Lock
 */

/**
 * Whether what is installed is what the lock file asks for. npm writes its own record when an install is complete.
 * Packages for other platforms are marked optional and may be absent; workspaces are links.
 * @param {Lock} wanted package-lock.json
 * @param {Lock | undefined} installed node_modules/.package-lock.json
 */
export function isInstalled(wanted, installed) {
  if (!installed?.packages) return false;
  const have = installed.packages;
  return Object.entries(wanted.packages ?? {}).every(([place, entry]) => {
    if (!place.startsWith("node_modules/") && !place.includes("/node_modules/")) return true;
    if (entry.optional && !have[place]) return true;
    return entry.link ? have[place]?.link === true : have[place]?.version === entry.version;
  });
}

/**
 * @param {string} file
 * @returns {Lock | undefined}
 */
function readLock(file) {
  try {
    return JSON.parse(readFileSync(file, "utf8"));
  } catch {
    return undefined;
  }
}

/** Installs the packages of the lock file unless they are there already. */
export async function ensureInstalled() {
  const wanted = readLock(inRoot("package-lock.json"));
  if (wanted && isInstalled(wanted, readLock(inRoot("node_modules", ".package-lock.json")))) return;
  say("Installing packages (a minute the first time) ...");
  const { code, output } = await runNpm([wanted ? "ci" : "install", "--no-fund", "--no-audit"], { quiet: true });
  if (code === 0) return;
  throw new PlainError(
    `${output}\nnpm could not install the packages (its message is above). Check the network, then run the command again.`,
  );
}
