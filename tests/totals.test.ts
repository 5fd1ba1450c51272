import { describe, expect, it } from "vitest";
import { countChecks, countVitest } from "../scripts/lib/test-steps.mjs";

describe("reading a report of the test runner", () => {
  const passing = { status: "passed", assertionResults: [{ status: "passed", fullName: "a" }] };
  const numbers = { numPassedTests: 3, numFailedTests: 1 };

  it("takes its numbers and names what was not run", () => {
    const partly = {
      status: "passed",
      assertionResults: [
        { status: "skipped", fullName: "b" },
        { status: "todo", fullName: "c" },
      ],
    };
    const text = JSON.stringify({ ...numbers, testResults: [passing, partly] });
    expect(countVitest(text)).toEqual({ passed: 3, failed: 1, skipped: 2, notes: ["not run: b", "not run: c"] });
  });

  it("counts a file that could not be read as a failure", () => {
    const broken = { status: "failed", assertionResults: [] };
    expect(countVitest(JSON.stringify({ ...numbers, testResults: [passing, broken] })).failed).toBe(2);
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
