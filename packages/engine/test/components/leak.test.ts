import { describe, expect, it } from "vitest";
import { addLeak, holeFlow, PSI, rateFlow } from "../../src/index.ts";
import { AIR_PA, Bench, bench, lever, volume, WARM_K } from "./testBench.ts";

const LITRES = 60;

/** A tank that leaks `psiPerMin` at `atPsi`. */
function leaking(psiPerMin: number, atPsi: number, pressurePa = AIR_PA) {
  const net = bench({ pressurePa });
  const tank = volume(net, "tank", LITRES);
  const flow = rateFlow({
    ratePaPerS: (psiPerMin * PSI) / 60,
    absolutePa: pressurePa + atPsi * PSI,
    volumeM3: LITRES * 1e-3,
    temperatureK: WARM_K,
  });
  addLeak(net, "hole", tank, flow, [lever(net, "leak")]);
  return net;
}

describe("a leak given as a hole", () => {
  it("of 4 mm2 at 584 kPa and 298 K passes 0.8 of the 5.47 g/s that an isentropic nozzle passes, within 2 %", () => {
    // Choked flow 0.0404 Cd A p / sqrt(T): textbook form, read; 0.199 dm3/(s bar) per mm2 is its ISO 6358 form.
    const diameterM = Math.sqrt((4 * 4e-6) / Math.PI);
    const { conductance } = holeFlow(diameterM);
    const flow = conductance * 584e3 * 1.185 * Math.sqrt(293.15 / 298);
    expect(Math.abs(flow / (0.8 * 5.47e-3) - 1)).toBeLessThan(0.02);
  });

  it("grows with the square of its diameter", () => {
    expect(holeFlow(0.002).conductance / holeFlow(0.001).conductance).toBeCloseTo(4, 12);
  });
});

describe("a leak given in psi per minute", () => {
  it("loses so much at the pressure it was given at, at sea level and at 7,000 ft", () => {
    for (const pressurePa of [AIR_PA, 78186]) {
      const run = new Bench(leaking(3, 100, pressurePa), { tank: 101.5 }).set("leak", 1);
      run.until(() => run.psi("tank") <= 101, 120);
      const before = run.psi("tank");
      run.wait(40);
      // Over 40 s about 100 psi: 2 psi.
      expect(before - run.psi("tank")).toBeCloseTo(2, 1);
    }
  });

  it("slows as the pressure falls: 49 / r minutes from 100 to 60 psi, 36 / r more to 40", () => {
    // Closed form of a choked isothermal blow-down: minutes = 114.7 ln(ratio of absolute pressures) / r.
    const r = 6;
    const run = new Bench(leaking(r, 100), { tank: 100 }).set("leak", 1);
    const to60 = run.until(() => run.psi("tank") <= 60, 1000) / 60;
    const to40 = run.until(() => run.psi("tank") <= 40, 1000) / 60;
    expect(Math.abs((to60 * r) / 49.2 - 1)).toBeLessThan(0.01);
    expect(Math.abs((to40 * r) / 35.7 - 1)).toBeLessThan(0.01);
  });

  it("is nothing until it is switched on, and part of it for part of the severity", () => {
    const run = new Bench(leaking(3, 100), { tank: 100 }).wait(60);
    expect(run.psi("tank")).toBeCloseTo(100, 9);
    const half = run.set("leak", 0.5).wait(0.01).flow("leak.hole");
    expect(run.set("leak", 1).wait(0.01).flow("leak.hole") / half).toBeCloseTo(2, 3);
  });
});
