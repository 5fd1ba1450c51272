import { describe, expect, it } from "vitest";
import { addLoadSensingValve, PSI } from "../../src/index.ts";
import { Bench, bench, regulated, size, volume } from "./testBench.ts";

const KNEE = 10;

function valveBench(ratio: number, hysteresisPsi = 2) {
  const net = bench();
  const inlet = regulated(net, "inlet");
  const outlet = volume(net, "outlet", 1);
  const flows = { inlet: size(6), exhaust: size(6) };
  const params = { ratio, kneePa: KNEE * PSI, hysteresisPa: hysteresisPsi * PSI, seatPa: PSI, ...flows };
  addLoadSensingValve(net, "valve", { inlet, outlet }, params);
  return net;
}

function applied(ratio: number, psi: number) {
  return new Bench(valveBench(ratio)).sweep("set.inlet", 0, psi, 1).wait(4);
}

// Form of the characteristic: common practice, no source.
describe("load-sensing valve", () => {
  it("passes all of it below the knee, laden or not", () => {
    for (const ratio of [0.3, 1]) expect(applied(ratio, 8).psi("outlet")).toBeCloseTo(8, 0);
  });

  it("above the knee passes its share of what is more, to half its lap", () => {
    for (const ratio of [0.3, 0.6]) {
      for (const psi of [30, 60, 90]) {
        const wanted = KNEE + ratio * (psi - KNEE);
        expect(Math.abs(applied(ratio, psi).psi("outlet") - wanted)).toBeLessThan(1.1);
      }
    }
  });

  it("fully laden passes all of it", () => {
    expect(applied(1, 90).psi("outlet")).toBeGreaterThan(89);
  });

  it("follows the inlet down by its share, and empties with it", () => {
    const run = applied(0.5, 90).sweep("set.inlet", 90, 50, 1).wait(4);
    const wanted = KNEE + 0.5 * 40;
    expect(run.psi("outlet")).toBeGreaterThan(wanted);
    expect(run.psi("outlet")).toBeLessThan(wanted + 2.1);
    expect(run.sweep("set.inlet", 50, 0, 0.5).wait(4).psi("outlet")).toBeLessThan(0.05);
  });

  it("never delivers more than it gets, on the way up or down", () => {
    const run = new Bench(valveBench(0.5));
    for (const [from, to] of [
      [0, 6],
      [6, 14],
      [14, 80],
      [80, 12],
      [12, 2],
    ] as const) {
      run.sweep("set.inlet", from, to, 1).wait(4);
      expect(run.psi("outlet")).toBeLessThan(run.psi("inlet") + 0.05);
    }
  });

  it("laps: nothing flows while the inlet stands", () => {
    const run = applied(0.5, 60);
    const before = run.psi("outlet");
    expect(run.wait(60).psi("outlet")).toBeCloseTo(before, 1);
    expect(Math.abs(run.flow("valve"))).toBeLessThan(1e-6);
  });

  it("refuses a ratio outside 0..1", () => {
    for (const ratio of [0, 1.1, Number.NaN]) expect(() => valveBench(ratio)).toThrow("ratio must lie in 0..1");
  });
});
