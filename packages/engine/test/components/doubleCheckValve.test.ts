import { describe, expect, it } from "vitest";
import { addDoubleCheckValve, addLeak, PSI, rateFlow } from "../../src/index.ts";
import { AIR_PA, Bench, bench, lever, size, volume, WARM_K } from "./testBench.ts";

/** Two tanks of 25 and 20 L meet before a small line; each can leak. */
function twoTanks(leakPsiPerMin = 0) {
  const net = bench();
  const first = volume(net, "first", 25);
  const second = volume(net, "second", 20);
  const outlet = volume(net, "outlet", 0.1);
  addDoubleCheckValve(net, "valve", { first, second, outlet }, { size: size(6), travelPa: 0.5 * PSI });
  const leak = (litres: number) =>
    rateFlow({
      ratePaPerS: (leakPsiPerMin * PSI) / 60,
      absolutePa: AIR_PA + 100 * PSI,
      volumeM3: litres * 1e-3,
      temperatureK: WARM_K,
    });
  addLeak(net, "first", first, leak(25), [lever(net, "leak.first")]);
  addLeak(net, "second", second, leak(20), [lever(net, "leak.second")]);
  addLeak(net, "use", outlet, size(1), [lever(net, "use")]);
  return net;
}

// common practice, no source
describe("double check valve", () => {
  it("passes the higher of the two, whichever side it stands on", () => {
    for (const [first, second] of [
      [100, 60],
      [60, 100],
    ] as const) {
      const run = new Bench(twoTanks(), { first, second, outlet: 0 });
      run.wait(2);
      expect(run.psi("outlet")).toBeGreaterThan(99.3);
      expect(Math.min(run.psi("first"), run.psi("second"))).toBeCloseTo(60, 6);
    }
  });

  for (const rate of [2, 20, 60, 300]) {
    for (const which of ["first", "second"] as const) {
      it(`a leak of ${rate} psi/min in the ${which} circuit leaves the other alone`, () => {
        const run = new Bench(twoTanks(rate), { first: 100, second: 100, outlet: 100 });
        run.set(`leak.${which}`, 1).wait(60);
        const other = which === "first" ? "second" : "first";
        expect(run.psi(which)).toBeLessThan(100 - 0.6 * Math.min(rate, 100));
        expect(run.psi(other)).toBeGreaterThan(99.9);
        expect(run.psi("outlet")).toBeGreaterThan(99.5);
      });
    }
  }

  it("traps no air: when both circuits fall, what stands behind it falls with the higher one", () => {
    const run = new Bench(twoTanks(300), { first: 100, second: 95, outlet: 100 });
    run.set("leak.first", 1).set("leak.second", 1).wait(120);
    const higher = Math.max(run.psi("first"), run.psi("second"));
    expect(higher).toBeLessThan(10);
    expect(run.psi("outlet") - higher).toBeLessThan(0.5);
  });

  it("traps no air when two equal circuits fall side by side", () => {
    const net = bench();
    const first = volume(net, "first", 5);
    const second = volume(net, "second", 5);
    const outlet = volume(net, "outlet", 5);
    addDoubleCheckValve(net, "valve", { first, second, outlet }, { size: size(6), travelPa: 0.5 * PSI });
    addLeak(net, "first", first, size(1), []);
    addLeak(net, "second", second, size(1), []);
    const run = new Bench(net, { first: 100, second: 100, outlet: 100 });
    run.wait(30);
    expect(run.psi("first")).toBeLessThan(5);
    expect(run.psi("outlet") - run.psi("first")).toBeLessThan(0.5);
  });

  it("air used behind it comes from the higher circuit until both are level, then from both", () => {
    const run = new Bench(twoTanks(), { first: 100, second: 90, outlet: 100 });
    run.set("use", 1);
    const level = run.until(() => run.psi("first") - run.psi("second") < 0.2, 60);
    expect(level).toBeGreaterThan(1);
    expect(run.psi("second")).toBeGreaterThan(89.5);
    run.wait(10);
    expect(Math.abs(run.psi("first") - run.psi("second"))).toBeLessThan(0.5);
    expect(run.psi("second")).toBeLessThan(85);
  });

  it("shows which side is shut off", () => {
    const run = new Bench(twoTanks(), { first: 100, second: 60, outlet: 100 });
    run.wait(0.1);
    expect([run.read("opening.valve.first"), run.read("opening.valve.second")]).toEqual([1, 0]);
  });
});
