import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { browserRemedy, ensureBrowser } from "./browser.mjs";
import { runNode } from "./command.mjs";
import { inRoot } from "./root.mjs";
import { PlainError, say } from "./say.mjs";
import { ensureShells } from "./shells.mjs";
import { nothingMayBeSkipped, one } from "./steps.mjs";

/** @typedef {import("./steps.mjs").Count} Count */

/** @param {...string} parts */
const tool = (...parts) => inRoot("node_modules", ...parts);

/** The folders with a tsconfig of their own; the last is the root's, which holds tests and scripts. */
const TYPED = [
  "packages/units",
  "packages/engine",
  "packages/vehicle",
  "packages/rulebook",
  "packages/cli",
  "packages/web",
  "packages/server",
  "checks",
  ".",
];

/** @returns {Promise<Count>} */
async function build() {
  const { buildAll } = await import("./build.mjs");
  await buildAll();
  return one(true);
}

/** @returns {Promise<Count>} */
async function lint() {
  const { code } = await runNode([tool("@biomejs", "biome", "bin", "biome"), "check", "--colors=off", "."]);
  return one(code === 0);
}

/**
 * Takes folders off the list until it is empty.
 * @param {string[]} left
 * @returns {Promise<number>} how many of them type-check
 */
async function checkTypes(left) {
  let passed = 0;
  for (let folder = left.shift(); folder !== undefined; folder = left.shift()) {
    const args = [tool("typescript", "bin", "tsc"), "-p", inRoot(folder, "tsconfig.json"), "--pretty", "false"];
    const { code } = await runNode(args);
    if (code === 0) passed += 1;
  }
  return passed;
}

/**
 * Two at a time: the machines that run this have two cores.
 * @returns {Promise<Count>}
 */
async function types() {
  const left = [...TYPED];
  const [first, second] = await Promise.all([checkTypes(left), checkTypes(left)]);
  const passed = first + second;
  return { passed, failed: TYPED.length - passed };
}

/** @returns {Promise<Count>} */
async function deadCode() {
  const { code } = await runNode([tool("knip", "bin", "knip.js"), "--no-progress", "--no-config-hints"]);
  return one(code === 0);
}

/**
 * What Vitest's JSON report says. A file that could not even be read has no tests and counts as one failure.
 * @param {string} text
 * @returns {Count}
 */
export function countVitest(text) {
  const report = JSON.parse(text);
  const broken = report.testResults.filter(
    (/** @type {any} */ file) =>
      file.status === "failed" && !file.assertionResults.some((/** @type {any} */ t) => t.status === "failed"),
  ).length;
  const left = report.testResults.flatMap((/** @type {any} */ file) =>
    file.assertionResults.filter((/** @type {any} */ test) => test.status !== "passed" && test.status !== "failed"),
  );
  const notes = left.map((/** @type {any} */ test) => `not run: ${test.fullName}`);
  return { passed: report.numPassedTests, failed: report.numFailedTests + broken, skipped: left.length, notes };
}

/**
 * Runs one group of tests of vitest.config.ts.
 * @param {string} project
 * @param {NodeJS.ProcessEnv} [env]
 * @returns {Promise<Count>}
 */
async function vitest(project, env = {}) {
  const folder = mkdtempSync(path.join(tmpdir(), "brakeyard-test-"));
  const report = path.join(folder, "report.json");
  try {
    const args = ["run", "--project", project, "--reporter=default", "--reporter=json", `--outputFile.json=${report}`];
    const { code } = await runNode([tool("vitest", "vitest.mjs"), ...args], {
      env: { ...process.env, NO_COLOR: "1", ...env },
    });
    if (!existsSync(report)) return one(false);
    const count = countVitest(readFileSync(report, "utf8"));
    if (code !== 0 && count.failed === 0) count.failed = 1;
    return count;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** @returns {Promise<Count>} */
async function bits() {
  await ensureShells();
  return vitest("bits");
}

/** The published checks as a user runs them: through the built command line. */
async function publishedChecks() {
  const { code, stdout } = await runNode([inRoot("packages", "cli", "dist", "brakeyard.mjs"), "checks", "--json"], {
    quiet: true,
  });
  const count = countChecks(stdout);
  if (code !== 0 && count.failed === 0) count.failed = 1;
  return count;
}

/**
 * What `brakeyard checks --json` says.
 * @param {string} text
 * @returns {Count}
 */
export function countChecks(text) {
  /** @type {{ checks: { id: string, ok: boolean, skipped?: string }[] }} */
  const report = JSON.parse(text);
  const skipped = report.checks.filter((check) => check.skipped !== undefined);
  const ran = report.checks.filter((check) => check.skipped === undefined);
  const failed = ran.filter((check) => check.ok !== true);
  for (const check of failed) say(`out of tolerance: ${check.id}`);
  return {
    passed: ran.length - failed.length,
    failed: failed.length,
    skipped: skipped.length,
    notes: skipped.map((check) => `${check.id} left out: ${check.skipped}`),
  };
}

/** @returns {Promise<Count>} */
async function browser() {
  const program = await ensureBrowser();
  if (!program) throw new PlainError(browserRemedy());
  return vitest("browser", { BRAKEYARD_BROWSER: program });
}

/** @type {import("./steps.mjs").Step[]} */
export const steps = [
  { name: "build", run: build },
  { name: "lint", run: lint },
  { name: "types", run: types },
  { name: "dead-code", run: deadCode },
  { name: "unit", run: () => vitest("unit") },
  { name: "repository", run: () => vitest("repository") },
  { name: "bits", run: bits },
  { name: "checks", run: publishedChecks },
  { name: "browser", run: browser },
];

/** Names of all steps, for the test that compares them with CONTRIBUTING. */
export const stepNames = steps.map((step) => step.name);

if (nothingMayBeSkipped) say("CI is set: a skipped test counts as a failed one.");
