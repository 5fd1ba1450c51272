import { describe, expect, it } from "vitest";
import { type Check, runCheck } from "./check.ts";
import { above, atLeast, atMost, below, between, figure, inOrder, near, nearShare, rising } from "./compare.ts";
import { checkText, totalText } from "./report.ts";

const named = (got: number) => ({ what: "x", unit: "s", got });
const ordinary = { low: 0.2, high: 0.4, source: "common practice, no source" };

describe("a comparer fails when it should", () => {
  it.each([
    ["near, above", near({ ...named(1.2), expected: 1, within: 0.1, reason: "" })],
    ["near, below", near({ ...named(0.8), expected: 1, within: 0.1, reason: "" })],
    ["near, NaN", near({ ...named(Number.NaN), expected: 1, within: 0.1, reason: "" })],
    ["nearShare", nearShare({ ...named(-0.98), expected: -1, share: 0.01, reason: "" })],
    ["nearShare, NaN", nearShare({ ...named(Number.NaN), expected: 1, share: 0.01, reason: "" })],
    ["between, low", between({ ...named(0.99), low: 1, high: 2, reason: "" })],
    ["between, high", between({ ...named(2.01), low: 1, high: 2, reason: "" })],
    ["between, NaN", between({ ...named(Number.NaN), low: 1, high: 2, reason: "" })],
    ["atMost, over", atMost({ ...named(0.46), limit: 0.45, ordinary: { ...ordinary, high: 1 } })],
    ["atMost, outside the band", atMost({ ...named(0.1), limit: 0.45, ordinary })],
    ["atMost, NaN", atMost({ ...named(Number.NaN), limit: 0.45, ordinary })],
    ["atLeast, under", atLeast({ ...named(59), limit: 60, ordinary: { ...ordinary, low: 50, high: 75 } })],
    ["atLeast, outside the band", atLeast({ ...named(80), limit: 60, ordinary: { ...ordinary, low: 60, high: 75 } })],
    ["atLeast, NaN", atLeast({ ...named(Number.NaN), limit: 60, ordinary })],
    ["above", above({ ...named(1), bound: 1, reason: "" })],
    ["above, NaN", above({ ...named(Number.NaN), bound: 1, reason: "" })],
    ["below", below({ ...named(1), bound: 1, reason: "" })],
    ["below, NaN", below({ ...named(Number.NaN), bound: 1, reason: "" })],
    [
      "inOrder, swapped",
      inOrder({
        what: "x",
        happened: [
          ["a", 2],
          ["b", 1],
        ],
        reason: "",
      }),
    ],
    [
      "inOrder, at once",
      inOrder({
        what: "x",
        happened: [
          ["a", 1],
          ["b", 1],
        ],
        reason: "",
      }),
    ],
    [
      "inOrder, first never",
      inOrder({
        what: "x",
        happened: [
          ["a", Number.NaN],
          ["b", 1],
        ],
        reason: "",
      }),
    ],
    [
      "inOrder, last never",
      inOrder({
        what: "x",
        happened: [
          ["a", 1],
          ["b", Number.NaN],
        ],
        reason: "",
      }),
    ],
    ["rising, level", rising({ what: "x", unit: "s", values: [1, 2, 2], reason: "" })],
    ["rising, NaN", rising({ what: "x", unit: "s", values: [1, Number.NaN, 3], reason: "" })],
    ["rising, too little", rising({ what: "x", unit: "s", values: [1, 1.1], reason: "", least: 0.2 })],
  ])("%s", (_, comparison) => {
    expect(comparison.ok).toBe(false);
    expect(comparison.margin > 1 || Number.isNaN(comparison.margin)).toBe(true);
  });
});

describe("a comparer holds when it should", () => {
  it.each([
    ["near", near({ ...named(1.1), expected: 1, within: 0.11, reason: "" })],
    ["nearShare, negative", nearShare({ ...named(-0.995), expected: -1, share: 0.01, reason: "" })],
    ["between, on the edge", between({ ...named(2), low: 1, high: 2, reason: "" })],
    ["atMost", atMost({ ...named(0.3), limit: 0.45, ordinary })],
    ["atLeast", atLeast({ ...named(66), limit: 60, ordinary: { ...ordinary, low: 60, high: 75 } })],
    ["above", above({ ...named(2), bound: 1, reason: "" })],
    ["below", below({ ...named(0), bound: 1, reason: "" })],
    [
      "inOrder",
      inOrder({
        what: "x",
        happened: [
          ["a", 0],
          ["b", 1],
          ["c", 3],
        ],
        reason: "",
      }),
    ],
    ["rising", rising({ what: "x", unit: "s", values: [1, 2, 3], reason: "" })],
  ])("%s", (_, comparison) => {
    expect(comparison.ok).toBe(true);
    expect(comparison.margin).toBeLessThanOrEqual(1);
  });

  it("and says when a limit is kept by more than half", () => {
    const band = { ...ordinary, low: 0.1 };
    expect(atMost({ ...named(0.2), limit: 0.45, ordinary: band }).suspicious).toContain("more than half");
    expect(atMost({ ...named(0.3), limit: 0.45, ordinary: band }).suspicious).toBeUndefined();
    expect(atLeast({ ...named(95), limit: 60, ordinary: { ...band, high: 100 } }).suspicious).toContain(
      "more than half",
    );
    expect(atLeast({ ...named(66), limit: 60, ordinary: { ...band, high: 100 } }).suspicious).toBeUndefined();
  });
});

describe("a comparer refuses to be empty", () => {
  it("with no tolerance, no width or nothing to compare", () => {
    expect(() => near({ ...named(1), expected: 1, within: 0, reason: "" })).toThrow("tolerance");
    expect(() => nearShare({ ...named(0), expected: 0, share: 0.1, reason: "" })).toThrow("tolerance");
    expect(() => between({ ...named(1), low: 2, high: 1, reason: "" })).toThrow("nothing between");
    expect(() => inOrder({ what: "x", happened: [["a", 1]], reason: "" })).toThrow("two or more");
    expect(() => rising({ what: "x", unit: "", values: [1], reason: "" })).toThrow("two or more");
  });
});

function check(run: Check["run"]): Check {
  const source = { text: "a book", seen: "from memory" } as const;
  return { id: "T-1", title: "t", kind: "closed form", source, problem: "p", inputs: ["1 m"], run };
}

describe("a check", () => {
  const clock = () => 0;
  const good = near({ ...named(1), expected: 1, within: 0.1, reason: "r" });
  const bad = near({ ...named(3), expected: 1, within: 0.1, reason: "r" });

  it("fails when one of its figures fails, when it has none and when it throws", () => {
    expect(
      runCheck(
        check(() => ({ comparisons: [good] })),
        clock,
      ).ok,
    ).toBe(true);
    expect(
      runCheck(
        check(() => ({ comparisons: [good, bad] })),
        clock,
      ).ok,
    ).toBe(false);
    expect(
      runCheck(
        check(() => ({ comparisons: [] })),
        clock,
      ).ok,
    ).toBe(false);
    const thrown = runCheck(
      check(() => {
        throw new Error("no such valve");
      }),
      clock,
    );
    expect(thrown.ok).toBe(false);
    expect(checkText(thrown)).toContain("no such valve");
  });

  it("prints margin, source and how it was seen, and names what failed", () => {
    const result = runCheck(
      check(() => ({ comparisons: [bad], beside: ["full model 2 s"] })),
      clock,
    );
    expect(checkText(result)).toMatch(/FAIL T-1[\s\S]*a book \(from memory\)[\s\S]*margin 20\.00[\s\S]*full model 2 s/);
    expect(totalText([result])).toContain("FAILED: T-1");
    expect(result.margin).toBeCloseTo(20);
  });

  it("keeps a NaN margin in sight", () => {
    const lost = near({ ...named(Number.NaN), expected: 1, within: 1, reason: "" });
    expect(
      runCheck(
        check(() => ({ comparisons: [lost, good] })),
        clock,
      ).margin,
    ).toBeNaN();
  });
});

describe("figures", () => {
  it("have four digits that count", () => {
    expect([0, 12.3456, 0.000123, 123456, Number.NaN].map(figure)).toEqual(["0", "12.35", "1.23e-4", "1.23e+5", "NaN"]);
  });
});
