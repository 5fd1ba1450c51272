import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadVehicle } from "../src/index.ts";
import { jsonPath } from "../src/text/problem.ts";
import { DEEPEST, scanJson } from "../src/text/scanJson.ts";
import { minimalBus } from "../test-support/minimalBus.ts";

function parses(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}

describe("JSON text", () => {
  it("passes when JSON.parse reads it", () => {
    fc.assert(fc.property(fc.json({ maxDepth: 5 }), (text) => scanJson(text) === null || text.includes("__proto__")));
  });

  it("is refused exactly when JSON.parse refuses it, whatever is cut out or put in", () => {
    const text = JSON.stringify(minimalBus(), null, 1);
    const edit = fc.record({ at: fc.nat(text.length), cut: fc.nat(3), put: fc.string({ maxLength: 3 }) });
    fc.assert(
      fc.property(edit, ({ at, cut, put }) => {
        const edited = text.slice(0, at) + put + text.slice(at + cut);
        const fault = scanJson(edited);
        return fault?.message.includes("twice") || (fault === null) === parses(edited);
      }),
      { numRuns: 300 },
    );
  });

  it.each([
    ['{"a": 1,\n "b": }', 2, 7, /not JSON/],
    ['{"a": 1,\n "a": 2}', 2, 2, /"a" stands twice/],
    ['{"a": 1} x', 1, 10, /more text/],
    ['{"a": 1', 1, 8, /ends too early/],
    ['{"a": 1e999}', 1, 7, /larger than any number/],
    ["{'a': 1}", 1, 2, /double quotes/],
    ['{"a" 1}', 1, 6, /":" is missing/],
    ['{"a": 1,}', 1, 9, /double quotes/],
    ['{"a": NaN}', 1, 7, /not JSON/],
    ['{"a": 012}', 1, 8, /"," is missing/],
    ["", 1, 1, /ends too early/],
  ])("%j: line %i, column %i", (text, line, column, message) => {
    const fault = scanJson(text);
    expect(fault).toMatchObject({ line, column });
    expect(fault?.message).toMatch(message);
  });

  it("may not be nested without end", () => {
    expect(scanJson("[".repeat(DEEPEST) + "]".repeat(DEEPEST))).toBeNull();
    expect(scanJson("[".repeat(DEEPEST + 1))?.message).toMatch(/nested more than/);
    expect(scanJson("[".repeat(1_900_000))?.message).toMatch(/nested more than/);
  });
});

describe("what is not a vehicle file at all", { timeout: 30_000 }, () => {
  it.each([
    ["an empty text", ""],
    ["words", "the quick brown fox"],
    ["a list", "[1, 2]"],
    ["a number", "3"],
    ["another file", '{"name": "x"}'],
  ])("%s is refused", (_what, text) => {
    const loaded = loadVehicle(text);
    expect(loaded.ok).toBe(false);
    expect(!loaded.ok && loaded.problems.length).toBe(1);
  });

  it("50 MB of noise is refused at once, unread", () => {
    const noise = '\u0001{["x'.repeat(10_000_000);
    const from = performance.now();
    const loaded = loadVehicle(noise);
    expect(performance.now() - from).toBeLessThan(250);
    expect(!loaded.ok && loaded.problems[0]?.message).toMatch(/50000000 characters long/);
  });

  it("a text of the longest length with one endless string is refused in time", () => {
    const from = performance.now();
    expect(loadVehicle(`{"a": "${"x".repeat(1_900_000)}"}`).ok).toBe(false);
    expect(loadVehicle(`{"a": "${"x".repeat(1_900_000)}`).ok).toBe(false);
    expect(performance.now() - from).toBeLessThan(4000);
  });

  it("random JSON is refused without an exception", () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
        const raw = { ...minimalBus(), air: value };
        return !loadVehicle(JSON.stringify(raw)).ok;
      }),
    );
  });

  it("a vehicle with any one value replaced is judged without an exception", () => {
    const text = JSON.stringify(minimalBus());
    const places = [...text.matchAll(/:("[^"]*"|\d+(\.\d+)?|true)/g)];
    const edit = fc.record({ place: fc.constantFrom(...places), value: fc.jsonValue({ maxDepth: 2 }) });
    fc.assert(
      fc.property(edit, ({ place, value }) => {
        const at = place.index + 1;
        const edited = text.slice(0, at) + JSON.stringify(value) + text.slice(at + String(place[1]).length);
        const loaded = loadVehicle(edited);
        return loaded.ok || loaded.problems.every((one) => one.path !== "" && one.remedy.length > 3);
      }),
      { numRuns: 500 },
    );
  });
});

describe("a JSON path", () => {
  it("reads as in JavaScript", () => {
    expect(jsonPath(["axles", 1, "brakes", "odd key", "x"])).toBe('$.axles[1].brakes["odd key"].x');
    expect(jsonPath([])).toBe("$");
  });
});
