import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { proofPage } from "../scripts/lib/proof-page.mjs";
import { joinFigures, keeps, readState, writeState } from "../scripts/lib/prove-state.mjs";

const folder = mkdtempSync(path.join(tmpdir(), "brakeyard-prove-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const figure = { name: "error", value: 0.5, unit: "ulp", limit: 1 };

describe("the state of a proof", () => {
  const file = path.join(folder, "deep", "state.json");
  const done = { "a b": { figures: [figure], seconds: 2 } };

  it("is taken up again for the same code, seed and size, and for no other", () => {
    expect(readState(file, "k1")).toEqual({ key: "k1", done: {} });
    writeState(file, { key: "k1", done });
    expect(readState(file, "k1").done).toEqual(done);
    expect(readState(file, "k2").done).toEqual({});
  });
});

describe("a figure", () => {
  it("does not keep its limit when above it or not a number", () => {
    expect([0.5, 1, 1.01, Number.NaN].map((value) => keeps({ ...figure, value }))).toEqual([true, true, false, false]);
  });

  it("counts with the largest value of all parts, and with NaN before any", () => {
    const values = [0.2, 0.9, 0.4].map((value) => ({ ...figure, value }));
    expect(joinFigures(values)).toEqual([{ ...figure, value: 0.9 }]);
    expect(joinFigures([...values, { ...figure, value: Number.NaN }])[0]?.value).toBeNaN();
  });
});

describe("the page", () => {
  it("says when a limit was not kept", () => {
    const how = { date: "2025-01-01", commit: "abc", seed: "1", scale: 1, node: "20.19.0" };
    const page = (value: number): string =>
      proofPage(how, [{ name: "n", claim: "c", figures: [{ ...figure, value }], seconds: 1 }]);
    expect(page(0.5)).toContain("| error | 0.5 | 1 | ulp | kept |");
    expect(page(2)).toContain("NOT KEPT");
  });
});
