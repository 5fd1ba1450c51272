import { describe, expect, it } from "vitest";
import { addReservoir, PSI } from "../../src/index.ts";
import { AIR_PA, Bench, bench, size, WARM_K } from "./testBench.ts";

const VOLUME_M3 = 0.025;
const DRAIN = 1.5;
const GAS = 287.05;

function tank(waterM3: number, warm = false) {
  const net = bench({ warm });
  const heat = { kind: "natural" as const, areaM2: 0.45, lengthM: 0.24 };
  addReservoir(net, "tank", { volumeM3: VOLUME_M3, heat, waterM3, drain: size(DRAIN) });
  return net;
}

describe("reservoir", () => {
  it("holds the mass of a perfect gas in what the water leaves free", () => {
    for (const waterM3 of [0, 0.005]) {
      const run = new Bench(tank(waterM3), { tank: 120 });
      const mass = ((AIR_PA + 120 * PSI) * (VOLUME_M3 - waterM3)) / (GAS * WARM_K);
      expect(run.read("mass.total") / mass).toBeCloseTo(1, 4);
    }
  });

  it("shut, holds what it has", () => {
    const run = new Bench(tank(0), { tank: 120 }).wait(3600);
    expect(run.psi("tank")).toBeCloseTo(120, 9);
  });

  it("lets its water out first, at the speed of a liquid, and then air", () => {
    const run = new Bench(tank(0.004), { tank: 120 }).set("drain.tank", 1).wait(0.5);
    // Q = Cd A sqrt(2 dp / rho), Cd A = C / 0.199e-8 mm2: textbook; ISO 6358 conductance as published.
    const area = (DRAIN / 0.199) * 1e-6;
    const rate = area * Math.sqrt((2 * 120 * PSI) / 998);
    expect((0.004 - run.read("water.tank")) / 0.5 / rate).toBeGreaterThan(0.96);
    expect((0.004 - run.read("water.tank")) / 0.5 / rate).toBeLessThan(1);
    expect(run.flow("tank.drain")).toBe(0);
    const dry = run.until(() => run.flow("tank.drain") > 1e-4, 60);
    expect(dry).toBeGreaterThan(0.9 * (0.004 / rate - 0.5));
    expect(run.read("water.tank")).toBeLessThan(2e-6);
    // Until then no air has left: pressure times free volume is what it was.
    const free = (AIR_PA + run.psi("tank") * PSI) * VOLUME_M3;
    expect(free / ((AIR_PA + 120 * PSI) * (VOLUME_M3 - 0.004))).toBeGreaterThan(0.97);
    expect(run.wait(120).psi("tank")).toBeLessThan(0.1);
  });

  it("drained from 120 psi for a moment keeps the rest", () => {
    const run = new Bench(tank(0), { tank: 120 }).set("drain.tank", 0.5).wait(2).set("drain.tank", 0).wait(1);
    const left = run.psi("tank");
    expect(left).toBeLessThan(113);
    expect(run.wait(600).psi("tank")).toBeCloseTo(left, 6);
  });

  it("drained fast grows cold and then comes back by some psi as its wall warms it", () => {
    // common practice, no source: needles creep back after air has been used
    const run = new Bench(tank(0, true), { tank: 120 }).set("drain.tank", 1).wait(4).set("drain.tank", 0).wait(0.01);
    const cold = run.psi("tank");
    expect(run.read("temperature.tank")).toBeLessThan(WARM_K - 15);
    const risen = run.wait(300).psi("tank") - cold;
    expect(risen).toBeGreaterThan(2);
    expect(risen).toBeLessThan(12);
    expect(run.read("temperature.tank")).toBeGreaterThan(WARM_K - 1);
  });

  it("refuses more water than it can hold", () => {
    expect(() => tank(0.025)).toThrow("water in tank must lie between 0 and its volume");
  });
});
