import { PlainError, say } from "./say.mjs";

/**
 * @typedef {{ passed: number, failed: number, skipped?: number, notes?: string[] }} Count
 * @typedef {{ name: string, run: () => Promise<Count> }} Step
 * @typedef {Count & { name: string, seconds: number }} StepResult
 */

/** In continuous integration nothing may be left out: there a skipped test is a failed one. */
export const nothingMayBeSkipped = Boolean(process.env["CI"]);

/**
 * A step that is one thing that holds or does not.
 * @param {boolean} ok
 * @returns {Count}
 */
export function one(ok) {
  return { passed: ok ? 1 : 0, failed: ok ? 0 : 1 };
}

/**
 * Runs one step; a step that throws has failed.
 * @param {Step} step
 * @returns {Promise<StepResult>}
 */
async function runStep(step) {
  say(`\n== ${step.name}`);
  const start = performance.now();
  const count = await step.run().catch((error) => {
    say(error instanceof PlainError ? error.message : String(error?.stack ?? error));
    return one(false);
  });
  if (count.passed + count.failed + (count.skipped ?? 0) === 0) {
    say("This step ran nothing, which counts as a failure.");
    count.failed = 1;
  }
  return { ...count, name: step.name, seconds: (performance.now() - start) / 1000 };
}

/**
 * Runs the steps in order, all of them whatever fails, so that one run shows everything.
 * @param {Step[]} steps
 * @param {string[]} only names of the steps wanted; none means all
 * @returns {Promise<StepResult[]>}
 */
export async function runSteps(steps, only) {
  const unknown = only.filter((name) => !steps.some((step) => step.name === name));
  if (unknown.length > 0) {
    throw new PlainError(
      `No step is called ${unknown.join(", ")}. The steps: ${steps.map((step) => step.name).join(", ")}.`,
    );
  }
  const results = [];
  for (const step of steps) {
    if (only.length === 0 || only.includes(step.name)) results.push(await runStep(step));
  }
  return results;
}

/**
 * Totals over all steps; what was skipped counts as failed where nothing may be skipped.
 * @param {Count[]} counts
 * @param {boolean} [strict]
 */
export function addUp(counts, strict = nothingMayBeSkipped) {
  let passed = 0;
  let failed = 0;
  for (const count of counts) {
    passed += count.passed;
    failed += count.failed + (strict ? (count.skipped ?? 0) : 0);
  }
  return { passed, failed };
}

/**
 * The summary that a person reads.
 * @param {StepResult[]} results
 */
export function tableOf(results) {
  const width = Math.max(...results.map((result) => result.name.length));
  return results
    .map(({ name, seconds, passed, failed, skipped = 0, notes = [] }) => {
      const skips = skipped > 0 ? `, ${skipped} skipped` : "";
      const line = `${name.padEnd(width)}  ${seconds.toFixed(1).padStart(6)} s  ${passed} passed, ${failed} failed${skips}`;
      return [line, ...notes.map((note) => `  ${note}`)].join("\n");
    })
    .join("\n");
}
