import { describe, expect, it } from "vitest";
import { countChecks, countVitest } from "../scripts/lib/test-steps.mjs";

describe("reading a report of the test runner", () => {
  const passing = { status: "passed", assertionResults: [{ status: "passed" }] };

  it("takes its numbers", () => {
    const text = JSON.stringify({
      numPassedTests: 3,
      numFailedTests: 1,
      numPendingTests: 1,
      numTodoTests: 1,
      testResults: [passing],
    });
    expect(countVitest(text)).toEqual({ passed: 3, failed: 1, skipped: 2 });
  });

  it("counts a file that could not be read as a failure", () => {
    const broken = { status: "failed", assertionResults: [] };
    const text = JSON.stringify({
      numPassedTests: 1,
      numFailedTests: 0,
      numPendingTests: 0,
      numTodoTests: 0,
      testResults: [passing, broken],
    });
    expect(countVitest(text).failed).toBe(1);
  });
});

describe("reading the published checks", () => {
  it("counts a check as passed only when it says so", () => {
    const checks = [
      { id: "a", ok: true },
      { id: "b", ok: false },
      { id: "c" },
      { id: "d", ok: true, skipped: "no reference" },
    ];
    const count = countChecks(JSON.stringify({ checks }));
    expect(count).toEqual({ passed: 1, failed: 2, skipped: 1, notes: ["d left out: no reference"] });
  });
});
