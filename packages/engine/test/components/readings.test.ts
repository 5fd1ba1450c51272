import { describe, expect, it } from "vitest";
import { addGauge, addLowAirSwitch, addStopLamp, addWarning, type GaugeParams, PSI } from "../../src/index.ts";
import { Bench, bench, lever, regulated } from "./testBench.ts";

const EXACT: GaugeParams = { lagS: 0.3, offsetPa: 0, gain: 1, resolutionPa: 0 };

function gaugeNet(params: Partial<GaugeParams> = {}) {
  const net = bench();
  const port = regulated(net, "line");
  const fault = lever(net, "lies");
  const options = { whileOn: lever(net, "key"), lies: { fault, offsetPa: 12 * PSI } };
  addGauge(net, "electric", port, { ...EXACT, ...params }, options);
  addGauge(net, "plain", port, { ...EXACT, ...params });
  return net;
}

function gaugeBench(params: Partial<GaugeParams> = {}) {
  return new Bench(gaugeNet(params));
}

/**
 * Needles follow the air's steps and set none of their own: when the air goes quiet after a quick change they are up to 2 % of that change off
 * for some seconds.
 */
const NEEDLE_PSI = 0.35;

function shown(run: Bench, gauge = "plain"): number {
  return run.read(`gauge.${gauge}`) / PSI;
}

describe("a pressure gauge", () => {
  it("lags behind a steady rise by its time constant, and comes to rest on the truth", () => {
    const run = gaugeBench().sweep("set.line", 0, 100, 5);
    const behind = run.psi("line") - shown(run);
    expect(behind).toBeCloseTo(20 * 0.3, 1);
    expect(Math.abs(shown(run.wait(10)) - run.psi("line"))).toBeLessThan(NEEDLE_PSI);
  });

  it("is off by its factor and its constant", () => {
    const run = gaugeBench({ offsetPa: 2 * PSI, gain: 0.98 })
      .sweep("set.line", 0, 100, 1)
      .wait(5);
    expect(Math.abs(shown(run) - 100)).toBeLessThan(NEEDLE_PSI);
    const still = new Bench(gaugeNet({ offsetPa: 2 * PSI, gain: 0.98 }), { line: 50 }).sweep("set.line", 50, 50, 1);
    expect(shown(still)).toBeCloseTo(51, 1);
  });

  it("is read in whole steps of its resolution, to the nearest", () => {
    for (const [psi, read] of [
      [51.2, 52],
      [50.8, 50],
      [0.9, 0],
    ] as const) {
      const run = gaugeBench({ resolutionPa: 2 * PSI })
        .sweep("set.line", 0, psi, 1)
        .wait(5);
      expect(shown(run)).toBeCloseTo(read, 6);
    }
  });

  it("electric, falls to nothing without the key and knows the pressure as soon as it is on", () => {
    const run = gaugeBench().sweep("set.line", 0, 80, 1).wait(5);
    expect(run.read("gauge.electric")).toBe(0);
    expect(Math.abs(shown(run) - 80)).toBeLessThan(NEEDLE_PSI);
    expect(Math.abs(shown(run.set("key", 1).wait(0.01), "electric") - 80)).toBeLessThan(NEEDLE_PSI);
  });

  it("lying, shows more than there is, and the air knows nothing of it", () => {
    const run = gaugeBench().set("key", 1).sweep("set.line", 0, 80, 1).set("lies", 1).wait(5);
    expect(Math.abs(shown(run, "electric") - 92)).toBeLessThan(NEEDLE_PSI);
    expect(run.psi("line")).toBeCloseTo(80, 1);
    expect(Math.abs(shown(run.set("lies", 0.5).wait(5), "electric") - 86)).toBeLessThan(NEEDLE_PSI);
  });
});

function warningBench() {
  const net = bench();
  const key = lever(net, "key");
  const switches = ["primary", "secondary"].map((name) =>
    addLowAirSwitch(
      net,
      name,
      regulated(net, name),
      { closesPa: 65 * PSI, opensPa: 70 * PSI },
      lever(net, `dead.${name}`),
    ),
  );
  addWarning(net, "lowAir", switches, key, true);
  return new Bench(net);
}

/** Both circuits full, key on. */
function full() {
  return warningBench().sweep("set.primary", 0, 100, 1).sweep("set.secondary", 0, 100, 1).wait(1).set("key", 1);
}

// At or above 60 psi: 49 CFR 571.121, from memory. 5 psi of hysteresis: common practice, no source.
describe("low-air warning", () => {
  it("is on with the key before there is air, and goes out when both circuits have opened their switches", () => {
    const run = warningBench().set("key", 1).wait(0.1);
    expect([run.read("lamp.lowAir"), run.read("buzzer.lowAir")]).toEqual([1, 1]);
    run.sweep("set.primary", 0, 100, 1).wait(1);
    expect(run.read("lamp.lowAir")).toBe(1);
    expect(run.sweep("set.secondary", 0, 69, 1).wait(1).read("lamp.lowAir")).toBe(1);
    expect(run.sweep("set.secondary", 69, 71, 1).wait(1).read("lamp.lowAir")).toBe(0);
    expect(run.read("buzzer.lowAir")).toBe(0);
  });

  it("comes on as either circuit falls to its setting, and names the circuit", () => {
    for (const circuit of ["primary", "secondary"]) {
      const run = full().wait(0.1);
      run.events();
      run.sweep(`set.${circuit}`, 100, 65.5, 1).wait(1);
      expect(run.read("lamp.lowAir")).toBe(0);
      run.sweep(`set.${circuit}`, 65.5, 64.5, 1).wait(1);
      expect([run.read("lamp.lowAir"), run.read("buzzer.lowAir")]).toEqual([1, 1]);
      expect(run.events().map((event) => event.text)).toEqual([`low-air switch closes: ${circuit}`]);
    }
  });

  it("says nothing with the key off, whatever the air", () => {
    const run = warningBench().wait(1);
    expect([run.read("lamp.lowAir"), run.read("buzzer.lowAir")]).toEqual([0, 0]);
  });

  it("with a dead switch stays silent for that circuit and not for the other", () => {
    const run = full().set("dead.primary", 1).sweep("set.primary", 100, 20, 1).wait(1);
    expect(run.read("lamp.lowAir")).toBe(0);
    expect(run.sweep("set.secondary", 100, 20, 1).wait(1).read("lamp.lowAir")).toBe(1);
  });

  it("a switch that dies while it warns falls silent", () => {
    const run = full().sweep("set.primary", 100, 20, 1).wait(1);
    expect(run.read("lamp.lowAir")).toBe(1);
    expect(run.set("dead.primary", 1).wait(0.1).read("lamp.lowAir")).toBe(0);
  });

  it("refuses a switch that opens where it closes", () => {
    const net = bench();
    const params = { closesPa: 65 * PSI, opensPa: 65 * PSI };
    expect(() => addLowAirSwitch(net, "x", regulated(net, "line"), params)).toThrow("must open above where it closes");
  });
});

describe("stop lamp", () => {
  function stopBench() {
    const net = bench();
    const key = lever(net, "key");
    addStopLamp(net, { primary: regulated(net, "primary"), secondary: regulated(net, "secondary") }, 4 * PSI, key);
    return new Bench(net);
  }

  it("lights on either line above its switch's pressure, with the key on", () => {
    const run = stopBench().set("key", 1).wait(0.1);
    expect(run.read("lamp.stop")).toBe(0);
    for (const line of ["primary", "secondary"]) {
      expect(run.sweep(`set.${line}`, 0, 3.5, 0.5).wait(1).read("lamp.stop")).toBe(0);
      expect(run.sweep(`set.${line}`, 3.5, 4.5, 0.5).wait(1).read("lamp.stop")).toBe(1);
      expect(run.sweep(`set.${line}`, 4.5, 0, 0.5).wait(2).read("lamp.stop")).toBe(0);
    }
    expect(run.events().map((event) => event.text)).toEqual([
      "stop lamp switch closes: primary",
      "stop lamp switch opens: primary",
      "stop lamp switch closes: secondary",
      "stop lamp switch opens: secondary",
    ]);
  });

  it("stays dark without the key", () => {
    expect(stopBench().sweep("set.primary", 0, 60, 0.5).wait(1).read("lamp.stop")).toBe(0);
  });
});
