import { describe, expect, it } from "vitest";
import { addCompressor, addGovernor, addLeak, PSI } from "../../src/index.ts";
import { Bench, bench, lever, size, volume, WARM_K } from "./testBench.ts";

const CUT_IN = 105;
const CUT_OUT = 125;

/** A compressor on a 20 L tank that loses air when `use` is moved. */
function governed() {
  const net = bench();
  const tank = volume(net, "tank", 20);
  const stuckLoaded = lever(net, "stuckLoaded");
  const stuckUnloaded = lever(net, "stuckUnloaded");
  const ports = { sensed: tank, stuckLoaded, stuckUnloaded };
  const loaded = addGovernor(net, "governor", ports, { cutInPa: CUT_IN * PSI, cutOutPa: CUT_OUT * PSI });
  const pump = { displacementM3: 5e-4, clearanceRatio: 0.05, intakeLossPa: 0, intakeTemperatureK: WARM_K };
  addCompressor(
    net,
    "pump",
    { discharge: tank, speed: lever(net, "speed", 3000), loaded, health: [] },
    { ...pump, speedRatio: 1 },
  );
  addLeak(net, "use", tank, size(0.4), [lever(net, "use")]);
  return net;
}

// Cut-out 120 to 145 psi, cut-in 20 to 25 below and not below 100: a provincial pre-trip page, read. The numbers here lie within.
describe("governor", () => {
  it("unloads at cut-out and loads at cut-in, over and over, to 0.01 psi", () => {
    const run = new Bench(governed(), { tank: 100 }).set("speed", 1500).set("use", 1);
    let low = Number.POSITIVE_INFINITY;
    let high = 0;
    run.until(() => run.psi("tank") > CUT_OUT - 0.5, 60);
    for (let k = 0; k < 6000; k++) {
      const psi = run.wait(0.01).psi("tank");
      low = Math.min(low, psi);
      high = Math.max(high, psi);
    }
    expect(high).toBeCloseTo(CUT_OUT, 1);
    expect(low).toBeCloseTo(CUT_IN, 1);
    const changes = run.events().map((event) => event.text);
    expect(changes.length).toBeGreaterThan(3);
    changes.forEach((text, i) => {
      expect(text).toMatch(i % 2 === 0 ? /cuts out/ : /cuts in/);
    });
  });

  it("between the two keeps to what it did last", () => {
    const filling = new Bench(governed(), { tank: 115 }).set("speed", 1000).wait(0.5);
    expect(filling.read("mode.governor.loaded")).toBe(1);
    const falling = new Bench(governed(), { tank: 130 }).wait(0.01).set("use", 1);
    falling.until(() => falling.psi("tank") < 115, 60);
    expect(falling.read("mode.governor.loaded")).toBe(0);
  });

  it("unloads at once when a run starts above cut-out", () => {
    const run = new Bench(governed(), { tank: 130 }).set("speed", 1000).wait(0.01);
    expect(run.flow("pump")).toBe(0);
  });

  it("stuck loaded, goes on past cut-out; freed, unloads at once", () => {
    const run = new Bench(governed(), { tank: 120 }).set("speed", 2000).set("stuckLoaded", 1).wait(15);
    expect(run.psi("tank")).toBeGreaterThan(CUT_OUT + 10);
    expect(run.flow("pump")).toBeGreaterThan(0);
    expect(run.set("stuckLoaded", 0).wait(0.01).flow("pump")).toBe(0);
  });

  it("stuck loaded while unloaded, loads at once", () => {
    const run = new Bench(governed(), { tank: 130 }).set("speed", 2000).wait(0.1);
    expect(run.set("stuckLoaded", 1).wait(0.1).flow("pump")).toBeGreaterThan(0);
  });

  it("stuck unloaded, fills nothing however low the tank; freed, loads", () => {
    const run = new Bench(governed(), { tank: 60 }).set("speed", 1500).set("stuckUnloaded", 1).wait(20);
    expect(run.psi("tank")).toBeCloseTo(60, 6);
    expect(run.set("stuckUnloaded", 0).wait(0.1).flow("pump")).toBeGreaterThan(0);
  });

  it("refuses a cut-in that is not below its cut-out", () => {
    const net = bench();
    const sensed = volume(net, "tank", 20);
    const params = { cutInPa: 120 * PSI, cutOutPa: 120 * PSI };
    expect(() => addGovernor(net, "governor", { sensed }, params)).toThrow("governor: cut-in must lie below cut-out");
  });
});
