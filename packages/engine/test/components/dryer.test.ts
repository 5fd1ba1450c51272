import { describe, expect, it } from "vitest";
import { addDryer, addLeak, PSI } from "../../src/index.ts";
import { Bench, bench, lever, size, volume } from "./testBench.ts";

/** Sump 1.2 L, purge volume 2.5 L, a 20 L tank; compressed air comes through a choked hole from a store. */
function dryerBench() {
  const net = bench();
  const tank = volume(net, "tank", 20);
  const loaded = lever(net, "loaded");
  const purgeStuckOpen = lever(net, "stuck");
  const still = { kind: "constant" as const, conductanceWPerK: 0 };
  const { discharge } = addDryer(
    net,
    "dryer",
    { outlet: tank, loaded, purgeStuckOpen },
    {
      sumpVolumeM3: 1.2e-3,
      dischargeHeat: still,
      purgeVolumeM3: 2.5e-3,
      purgeHeat: still,
      through: size(12),
      purgeValve: size(15),
      purgeReturn: size(0.12),
      outletCheck: { size: size(8), crackPa: 0.3 * PSI, openingPa: PSI },
    },
  );
  const store = volume(net, "store", 1e6);
  net.orifice("pump", store, discharge, size(0.3), { factors: [loaded] });
  addLeak(net, "use", tank, size(0.5), [lever(net, "use")]);
  return net;
}

const FULL = { tank: 120, store: 300, "dryer.purgeVolume": 120.5, "dryer.sump": 120.6 };

describe("air dryer", () => {
  it("passes what the compressor delivers on to the supply tank", () => {
    const run = new Bench(dryerBench(), { ...FULL, tank: 100, "dryer.purgeVolume": 100, "dryer.sump": 100 });
    run.set("loaded", 1).wait(10);
    expect(run.psi("tank")).toBeGreaterThan(105);
    expect(run.flow("dryer.outlet")).toBeGreaterThan(0);
    expect(run.psi("dryer.sump") - run.psi("tank")).toBeLessThan(2.5);
    expect(run.flow("dryer.purge")).toBe(0);
  });

  it("at cut-out empties its sump at once and its purge volume over some seconds, and takes nothing from the tank", () => {
    // Purge of 10 to 20 L free air per cycle, of half a minute at most: from memory.
    const run = new Bench(dryerBench(), FULL).set("loaded", 1).wait(0.5);
    const before = run.psi("tank");
    run.set("loaded", 0).wait(0.6);
    expect(run.psi("dryer.sump")).toBeLessThan(5);
    expect(run.psi("dryer.purgeVolume")).toBeGreaterThan(90);
    const emptied = run.until(() => run.psi("dryer.purgeVolume") < 5, 90);
    expect(emptied).toBeGreaterThan(5);
    expect(emptied).toBeLessThan(60);
    expect(run.psi("tank")).toBeGreaterThan(before - 0.01);
    const litres = (3.7e-3 * 120 * PSI * 1000) / 101325;
    expect(litres).toBeGreaterThan(10);
    expect(litres).toBeLessThan(35);
  });

  it("fills again before the tank does once the compressor loads", () => {
    const run = new Bench(dryerBench(), { ...FULL, "dryer.purgeVolume": 0, "dryer.sump": 0 }).set("loaded", 1);
    run.wait(0.5);
    expect(run.flow("dryer.outlet")).toBe(0);
    expect(run.until(() => run.flow("dryer.outlet") > 0, 60)).toBeGreaterThan(2);
  });

  it("with its purge valve stuck open loses what the compressor delivers, and the tank holds behind the outlet check", () => {
    const run = new Bench(dryerBench(), FULL).set("loaded", 1).set("stuck", 1).wait(20);
    expect(run.psi("tank")).toBeCloseTo(120, 1);
    expect(run.psi("dryer.sump")).toBeLessThan(10);
    expect(run.flow("dryer.purge")).toBeGreaterThan(0);
  });

  it("purges no faster at cut-out for a purge valve that is stuck open anyway", () => {
    const purge = (stuck: number): number =>
      new Bench(dryerBench(), FULL).set("stuck", stuck).wait(0.01).flow("dryer.purge");
    expect(purge(1)).toBeGreaterThan(0.005);
    expect(purge(1)).toBeCloseTo(purge(0), 12);
  });
});
