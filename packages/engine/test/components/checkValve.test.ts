import { describe, expect, it } from "vitest";
import { addCheckValve, addLeak, PSI } from "../../src/index.ts";
import { Bench, bench, lever, size, volume } from "./testBench.ts";

const CRACK_PSI = 1;

function valveBench() {
  const net = bench();
  const supply = volume(net, "supply", 20);
  const service = volume(net, "service", 25);
  const params = { size: size(6), crackPa: CRACK_PSI * PSI, openingPa: 2 * PSI };
  addCheckValve(net, "check", { from: supply, to: service, failed: lever(net, "failed") }, params);
  addLeak(net, "supply", supply, size(3), [lever(net, "burst")]);
  return net;
}

describe("check valve", () => {
  it("passes air on and leaves its crack pressure between the two", () => {
    const run = new Bench(valveBench(), { supply: 120, service: 60 }).wait(60);
    expect(run.psi("supply") - run.psi("service")).toBeGreaterThan(CRACK_PSI);
    expect(run.psi("supply") - run.psi("service")).toBeLessThan(CRACK_PSI + 0.1);
  });

  it("does not open below its crack pressure", () => {
    const run = new Bench(valveBench(), { supply: 100 + 0.9 * CRACK_PSI, service: 100 }).wait(60);
    expect(run.flow("check")).toBe(0);
    expect(run.psi("service")).toBeCloseTo(100, 9);
  });

  it("holds the service tank for ten minutes with its supply burst: a loss of 10 psi is accepted, this one loses none", () => {
    // 10 psi in 10 minutes: an interpretation of 49 CFR 571.121 (aiam2670), read.
    const run = new Bench(valveBench(), { supply: 120, service: 118 }).set("burst", 1);
    run.until(() => run.psi("supply") < 1, 120);
    run.wait(600);
    expect(run.psi("supply")).toBeLessThan(0.01);
    expect(run.psi("service")).toBeGreaterThan(118 - 1e-9);
  });

  it("never passes backwards, whatever the two pressures", () => {
    for (const [supply, service] of [
      [0, 120],
      [99, 100],
      [100, 100],
      [101, 100],
      [120, 0],
    ] as const) {
      const run = new Bench(valveBench(), { supply, service });
      for (let k = 0; k < 50; k++) expect(run.wait(0.02).flow("check")).toBeGreaterThanOrEqual(0);
    }
  });

  it("failed, lets air back", () => {
    const run = new Bench(valveBench(), { supply: 0, service: 120 }).set("failed", 1).wait(0.01);
    expect(run.flow("check")).toBeLessThan(0);
    expect(Math.abs(run.wait(60).psi("service") - run.psi("supply"))).toBeLessThan(0.1);
  });
});
