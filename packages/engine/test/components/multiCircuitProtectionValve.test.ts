import { describe, expect, it } from "vitest";
import { addLeak, addMultiCircuitProtectionValve, burstClosingPressurePa, PSI } from "../../src/index.ts";
import { Bench, bench, lever, size, volume } from "./testBench.ts";

const BAR = 1e5;
const VALVE = { staticPa: 6.0 * BAR, sourceShare: 0.8, openingPa: 0.3 * BAR, oneWay: false, size: size(8) };

/** Two circuits of 20 L behind a 2 L source that a compressor feeds; the first can burst. */
function valveBench(oneWay = false) {
  const net = bench();
  const source = volume(net, "source", 2);
  const first = volume(net, "first", 20);
  const second = volume(net, "second", 20);
  addMultiCircuitProtectionValve(net, "valve", { source, circuits: { first, second } }, { ...VALVE, oneWay });
  const store = volume(net, "store", 1e6);
  net.orifice("pump", store, source, size(0.4), { factors: [lever(net, "pump")] });
  addLeak(net, "first", first, size(40), [lever(net, "burst")]);
  return net;
}

const FULL = { source: 10 * (BAR / PSI), first: 10 * (BAR / PSI), second: 10 * (BAR / PSI), store: 300 };
const closing = burstClosingPressurePa(VALVE) / PSI;

// Form of the valve: common practice, no source.
describe("multi-circuit protection valve", () => {
  it("shuts a burst circuit off at its static pressure over the source's share of the seat", () => {
    expect(burstClosingPressurePa(VALVE)).toBe(7.5 * BAR);
  });

  it("fills both circuits, from empty once the source has reached that pressure", () => {
    const run = new Bench(valveBench(), { store: 300 }).set("pump", 1);
    run.until(() => run.flow("valve.first") > 0, 120);
    expect(run.psi("source")).toBeCloseTo(closing, 0);
    run.wait(120);
    expect(run.psi("first")).toBeGreaterThan(120);
    expect(run.psi("second")).toBeCloseTo(run.psi("first"), 6);
  });

  it("with one circuit burst and no compressor, keeps the static pressure at least for the other", () => {
    const run = new Bench(valveBench(), FULL).set("burst", 1).wait(60);
    expect(run.psi("first")).toBeLessThan(1);
    expect(run.psi("second")).toBeGreaterThan((VALVE.staticPa / PSI) * 0.99);
    expect(run.psi("second")).toBeLessThan(FULL.second);
  });

  it("one way, keeps all of it", () => {
    const run = new Bench(valveBench(true), FULL).set("burst", 1).wait(60);
    expect(run.psi("second")).toBeGreaterThan(FULL.second - 0.1);
  });

  it("with one circuit burst and the compressor on, refills the other to the closing pressure and no further", () => {
    const run = new Bench(valveBench(), { ...FULL, source: 0, first: 0, second: 60 }).set("burst", 1).set("pump", 1);
    run.wait(300);
    expect(run.flow("valve.first")).toBeGreaterThan(0);
    expect(run.psi("second")).toBeGreaterThan(closing - 0.5);
    expect(run.psi("second")).toBeLessThan(closing + VALVE.openingPa / VALVE.sourceShare / PSI);
    const settled = run.psi("second");
    expect(run.wait(300).psi("second")).toBeCloseTo(settled, 1);
  });

  it("feels the tank behind a short pipe where it is told to, and throttles a burst circuit without snapping", () => {
    const net = bench();
    const source = volume(net, "source", 2);
    const pipe = volume(net, "pipe", 0.05);
    const tank = volume(net, "tank", 20);
    net.orifice("pipe", pipe, tank, size(6));
    addMultiCircuitProtectionValve(net, "valve", { source, circuits: { one: pipe }, sensed: { one: tank } }, VALVE);
    const store = volume(net, "store", 1e6);
    net.orifice("pump", store, source, size(0.4));
    addLeak(net, "tank", tank, size(40), []);
    const run = new Bench(net, { store: 300 }).wait(30);
    const before = run.run.statistics().steps;
    const seen = Array.from({ length: 100 }, () => run.wait(0.1).psi("source"));
    expect(Math.max(...seen) - Math.min(...seen)).toBeLessThan(0.1);
    expect(seen[0]).toBeGreaterThan(closing - 0.5);
    expect(run.run.statistics().steps - before).toBeLessThan(50);
  });

  it("refuses a share of the seat that is none or all", () => {
    for (const sourceShare of [0, 1, Number.NaN]) {
      const net = bench();
      const ports = { source: volume(net, "s", 1), circuits: { a: volume(net, "a", 1) } };
      const params = { ...VALVE, sourceShare };
      expect(() => addMultiCircuitProtectionValve(net, "m", ports, params)).toThrow("between 0 and 1");
    }
  });
});
