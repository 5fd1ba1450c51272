import { describe, expect, it, vi } from "vitest";
import { boundsOf, broken, checkValves } from "./bounds.ts";
import { vehicles } from "./index.ts";
import { randomCase } from "./randomCase.ts";
import { tryCase } from "./tryCase.ts";

// Each case runs a vehicle three times; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 60_000 });

/** Cases that once showed a fault, by what it was. They stay mended. */
const ONCE_BROKEN: readonly (readonly [name: string, what: string])[] = [
  ["a 2", "a control known early showed in a step before it that was tried too long"],
  ["b 9", "written-out code multiplied the openings of three seats in another order than the tables"],
];

describe("random vehicles in careless hands", () => {
  it.each(ONCE_BROKEN)("case %s, in which %s", (name) => {
    expect(tryCase(name).faults).toEqual([]);
  });

  it("a part of the proof in small keeps every figure, and moves something", async () => {
    const figures = await vehicles.run("a", { seed: "small", scale: 0.03, progress: () => undefined });
    for (const { name, value, limit } of figures) expect(value, name).toBeLessThanOrEqual(limit);
    expect(figures.find((figure) => figure.name === "largest error of energy")?.value).toBeGreaterThan(0);
  });

  it("the same name draws the same case, another name another", () => {
    expect(randomCase("x").log).toEqual(randomCase("x").log);
    expect(randomCase("x").log).not.toEqual(randomCase("y").log);
  });
});

describe("the guards of the proof see", () => {
  const { model } = randomCase("bounds 0").assembly;
  const good = (): Float64Array => new Float64Array(model.channels.length).map((_, i) => middle(i));
  const bounds = boundsOf(model);
  const middle = (i: number): number => ((bounds[i]?.low ?? 0) + (bounds[i]?.high ?? 0)) / 2;

  it("a value below and above its bounds, and one that is no number, and leave a good row alone", () => {
    expect(broken(bounds, good())).toEqual([]);
    for (const value of [-1e9, 1e9, Number.NaN]) {
      const row = good();
      row[3] = value;
      expect(broken(bounds, row)).toEqual([`${model.channels[3]?.id} ${value}`]);
    }
  });

  it("air that goes back through a check valve", () => {
    const [valve] = checkValves(model);
    const row = good();
    row[valve?.index ?? 0] = -1e-15;
    expect(broken(checkValves(model), row).length).toBe(1);
  });

  it("a vehicle whose checks are there to be seen", () => {
    for (const name of ["1", "2", "3", "4", "5", "6"])
      expect(checkValves(randomCase(name).assembly.model).length).toBeGreaterThan(0);
  });
});
