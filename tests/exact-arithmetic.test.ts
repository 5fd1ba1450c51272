import { existsSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { inRoot } from "../scripts/lib/root.mjs";
import { inexactIn } from "./guards/exact-arithmetic.ts";
import { filesUnder, isTest } from "./guards/files.ts";

/** The packages whose results must have the same bits everywhere; the last comes later. */
const exactPackages = ["units", "engine", "vehicle", "rulebook", "practice"].filter((name) =>
  existsSync(inRoot("packages", name)),
);

function faults(text: string): string[] {
  return inexactIn({ path: "sample.ts", text });
}

describe("only exact arithmetic", () => {
  it.each(exactPackages)("in packages/%s", (name) => {
    const files = filesUnder(`packages/${name}/src`, /\.ts$/).filter((file) => !isTest(file));
    expect(files.length).toBeGreaterThan(0);
    expect(files.flatMap(inexactIn)).toEqual([]);
  });
});

describe("the rule sees", () => {
  it.each([
    "Math.exp(x)",
    "Math.round(x)",
    "Math.random()",
    "Math.hypot(3, 4)",
    "const { pow } = Math;",
    "const m = Math; m.sin(1);",
    'Math["pow"](2, 3)',
    "x ** 2",
    "x **= 2",
    "new Date()",
    "Date.now()",
    "const now: Date = other;",
    "Intl.NumberFormat",
    "globalThis.Math",
    "performance.now()",
    "n.toLocaleString()",
    "a.localeCompare(b)",
    "list.toSorted()",
    "list.findLast(f)",
    "Number(x.toFixed(2))",
    "+x.toFixed(2)",
    "parseFloat(x.toPrecision(3))",
  ])("%s", (text) => {
    expect(faults(text)).not.toEqual([]);
    expect(faults(text)[0]).toMatch(/^sample\.ts:1 /);
  });
});

describe("the rule leaves alone", () => {
  it.each([
    "Math.abs(x) + Math.min(a, b) - Math.max(a, b) * Math.floor(x) / Math.trunc(x) + Math.imul(a, b) + Math.sqrt(x)",
    "const words = { Date: 1, performance: 2 };",
    "file.Date",
    "interface Row { Date: number; }",
    "say(x.toFixed(2));",
    "list.at(-1)",
    "// Math.exp(x)",
    'const message = "Math.exp";',
  ])("%s", (text) => {
    expect(faults(text)).toEqual([]);
  });
});
