import { accessSync, constants } from "node:fs";
import path from "node:path";
import { installDebian, isDebianRoot } from "./debian.mjs";

/**
 * @typedef {{ env: NodeJS.ProcessEnv, platform: NodeJS.Platform, exists: (file: string) => boolean }} Machine
 */

/** Names under which a Chromium of some kind stands on PATH. */
const NAMES = [
  "chromium",
  "chromium-browser",
  "google-chrome",
  "google-chrome-stable",
  "microsoft-edge",
  "microsoft-edge-stable",
];

const MAC_APPLICATIONS = [
  "Google Chrome.app/Contents/MacOS/Google Chrome",
  "Chromium.app/Contents/MacOS/Chromium",
  "Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
];

const WINDOWS_PROGRAMS = [
  ["Google", "Chrome", "Application", "chrome.exe"],
  ["Chromium", "Application", "chrome.exe"],
  ["Microsoft", "Edge", "Application", "msedge.exe"],
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

/**
 * Where a browser may stand on this machine, in the order in which they are tried.
 * @param {Machine} machine
 */
function places({ env, platform }) {
  if (platform === "darwin") {
    const folders = ["/Applications", path.posix.join(env["HOME"] ?? "/", "Applications")];
    return folders.flatMap((folder) => MAC_APPLICATIONS.map((app) => path.posix.join(folder, app)));
  }
  if (platform === "win32") {
    const folders = [env["PROGRAMFILES"], env["PROGRAMFILES(X86)"], env["LOCALAPPDATA"]].filter(
      (one) => one !== undefined,
    );
    return folders.flatMap((folder) => WINDOWS_PROGRAMS.map((parts) => path.win32.join(folder, ...parts)));
  }
  const folders = [...(env["PATH"] ?? "").split(":"), "/usr/bin", "/usr/local/bin", "/snap/bin", "/opt/google/chrome"];
  return folders.filter((one) => one !== "").flatMap((folder) => NAMES.map((name) => path.posix.join(folder, name)));
}

/**
 * The browser for the browser tests, if there is one.
 * @param {Partial<Machine>} [machine] this one unless a test says otherwise
 * @returns {string | undefined}
 */
export function findBrowser(machine = {}) {
  const here = { env: process.env, platform: process.platform, exists: isThere, ...machine };
  const chosen = here.env["BRAKEYARD_BROWSER"];
  if (chosen) return here.exists(chosen) ? chosen : undefined;
  return places(here).find(here.exists);
}

/** What a person without a browser should do. */
export function browserRemedy() {
  const chosen = process.env["BRAKEYARD_BROWSER"];
  if (chosen) return `BRAKEYARD_BROWSER names "${chosen}", which is not a program that can be run.`;
  return "The browser tests need Chrome, Chromium or Edge: install one, or set BRAKEYARD_BROWSER to its program file.";
}

/**
 * The browser, installed first where that is possible (Debian, as root).
 * @returns {Promise<string | undefined>}
 */
export async function ensureBrowser() {
  const found = findBrowser();
  if (found || process.env["BRAKEYARD_BROWSER"] || !isDebianRoot()) return found;
  await installDebian(["chromium"]);
  return findBrowser();
}
