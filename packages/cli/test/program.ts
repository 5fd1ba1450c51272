import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

const here = path.dirname(fileURLToPath(import.meta.url));
/** The top folder of the clone. */
export const root = path.join(here, "..", "..", "..");
/** The program as npx finds it. */
export const program = path.join(here, "..", "bin", "brakeyard.mjs");

/** Throws when there is no built program to test. */
export function requireBuilt(): void {
  if (existsSync(path.join(here, "..", "dist", "brakeyard.mjs"))) return;
  throw new Error("these tests run the built program: `npm test -- build` first");
}

/** Runs the built program in a folder, as a person would. */
export function brakeyardIn(folder: string, ...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [program, ...args], { cwd: folder, encoding: "utf8" });
  return { status, stdout, stderr };
}
