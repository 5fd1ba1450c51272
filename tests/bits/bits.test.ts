import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { inRoot } from "../../scripts/lib/root.mjs";
import { bundleScript, type Engine, engines, linesFrom } from "./engines.ts";

const folder = mkdtempSync(path.join(tmpdir(), "brakeyard-bits-"));
const script = path.join(folder, "bits.js");
const [v8, ...others] = engines() as [Engine, ...Engine[]];
let expected: string[] = [];

beforeAll(async () => {
  await bundleScript(inRoot("tests", "bits", "entry.ts"), script);
  expected = linesFrom(v8, script);
}, 240_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("the same bits", () => {
  it("come out of V8 as a name and a fingerprint for each workload", () => {
    expect(expected.length).toBeGreaterThan(10);
    for (const line of expected) expect(line).toMatch(/^\S+ [0-9a-f]{16}$/);
  });

  it("come out of the two ways in which the engine does its sums, watched or not", () => {
    const hash = (name: string): string | undefined =>
      expected.find((line) => line.startsWith(`${name} `))?.split(" ")[1];
    expect(hash("bus-trace")).toMatch(/^[0-9a-f]{16}$/);
    expect(hash("bus-trace-by-tables")).toBe(hash("bus-trace"));
  });

  it("come out of V8 without its compilers", () => {
    const plain = { ...v8, command: [process.execPath, "--no-opt", "--no-sparkplug"] as const };
    expect(linesFrom(plain, script)).toEqual(expected);
  });

  for (const engine of others) {
    const missing = engine.command ? "" : `: left out, ${engine.remedy}`;
    it.skipIf(missing !== "")(`come out of ${engine.name}${missing}`, () => {
      expect(linesFrom(engine, script)).toEqual(expected);
    });
  }
});

describe("the comparison itself", () => {
  const wrong = path.join(folder, "wrong.js");

  for (const engine of others) {
    const missing = engine.command ? "" : `: left out, ${engine.remedy}`;
    it.skipIf(missing !== "")(`sees that the forbidden functions differ in ${engine.name}${missing}`, () => {
      const text = `let s = 0;
        for (let i = 1; i < 20000; i += 1) s += (Math.pow(i, 0.37) % 1) + Math.sin(i * 1.1) + Math.cbrt(i) + Math.log(i);
        (typeof print === "function" ? print : console.log)("sum " + s);`;
      writeFileSync(wrong, text);
      expect(linesFrom(engine, wrong)).not.toEqual(linesFrom(v8, wrong));
    });
  }
});
