import { existsSync } from "node:fs";
import { run } from "./command.mjs";
import { say } from "./say.mjs";

/** Whether Debian packages can be installed here without asking anyone. */
export function isDebianRoot() {
  return process.platform === "linux" && existsSync("/etc/debian_version") && process.getuid?.() === 0;
}

/** True after the first `apt-get update` of this process. */
let updated = false;

/**
 * Installs Debian packages; says so, and says when it fails.
 * @param {string[]} packages
 */
export async function installDebian(packages) {
  say(`Installing with apt-get: ${packages.join(" ")} ...`);
  const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
  if (!updated) await run("apt-get", ["update", "-qq"], { env, quiet: true });
  updated = true;
  const { code, output } = await run("apt-get", ["install", "-y", "-qq", "--no-install-recommends", ...packages], {
    env,
    quiet: true,
  });
  if (code !== 0) say(`apt-get could not install ${packages.join(" ")}:\n${output.trim()}`);
}
