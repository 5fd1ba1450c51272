import { describe, expect, it } from "vitest";
import { addRelayValve, PSI, type RelayValveParams } from "../../src/index.ts";
import { Bench, bench, lever, regulated, size, volume } from "./testBench.ts";

/** Crack 3 to 5 psi, hysteresis 1 to 3: from memory. */
const RELAY: RelayValveParams = {
  crackPa: 4 * PSI,
  hysteresisPa: 2 * PSI,
  gain: 1,
  seatPa: PSI,
  inlet: size(4.2),
  exhaust: size(14),
};

/** A relay between a tank of 40 L and two litres of brake; its control is set on a bench regulator. */
function relayBench(changes: Partial<RelayValveParams> = {}, twoControls = false) {
  const net = bench();
  const supply = volume(net, "supply", 40);
  const control = regulated(net, "control");
  const second = twoControls ? { secondControl: { port: regulated(net, "second") } } : {};
  const delivery = volume(net, "delivery", 2);
  const stiff = { fault: lever(net, "stiff"), extraPa: 10 * PSI };
  const exhaustLeak = { fault: lever(net, "leak"), size: size(0.05) };
  addRelayValve(net, "relay", { supply, control, ...second, delivery, stiff, exhaustLeak }, { ...RELAY, ...changes });
  return net;
}

function controlled(psi: number, changes: Partial<RelayValveParams> = {}) {
  return new Bench(relayBench(changes), { supply: 120 }).sweep("set.control", 0, psi, 1).wait(4);
}

describe("relay valve", () => {
  it("passes nothing below its crack pressure", () => {
    const run = controlled(3.9);
    expect(run.psi("delivery")).toBe(0);
    expect(run.read("opening.relay")).toBe(0);
  });

  it("delivers the control less the crack pressure, and with a gain above 1 all of it near full pressure", () => {
    for (const psi of [10, 40, 80]) expect(controlled(psi).psi("delivery")).toBeCloseTo(psi - 4, 0);
    expect(controlled(100, { gain: 1.04 }).psi("delivery")).toBeCloseTo(100, 0);
  });

  it("laps: control and delivery stand, and nothing flows", () => {
    const run = controlled(50);
    const before = run.psi("delivery");
    run.wait(60);
    expect(run.psi("delivery")).toBeCloseTo(before, 1);
    expect(run.read("exhausting.relay")).toBe(0);
    expect(run.read("opening.relay")).toBeLessThan(1e-3);
  });

  it("has its hysteresis between a rising and a falling control", () => {
    const rising = controlled(50).psi("delivery");
    const falling = controlled(80).sweep("set.control", 80, 50, 1).wait(4).psi("delivery");
    expect(falling - rising).toBeGreaterThan(1.8);
    expect(falling - rising).toBeLessThan(2.1);
    const run = controlled(50);
    const before = run.psi("delivery");
    expect(run.sweep("set.control", 50, 48.2, 0.5).wait(4).psi("delivery")).toBeCloseTo(before, 1);
  });

  it("takes its air from the tank, none from the control", () => {
    const run = new Bench(relayBench(), { supply: 120 }).sweep("set.control", 0, 60, 0.5).wait(5);
    const taken = (120 - run.psi("supply")) * 40;
    expect(taken).toBeCloseTo(run.psi("delivery") * 2, 0);
  });

  it("empties the brakes fully when the control falls, and does so through the exhaust", () => {
    const run = controlled(90).sweep("set.control", 90, 0, 0.1);
    expect(run.wait(0.05).flow("relay.exhaust")).toBeGreaterThan(0.005);
    expect(run.wait(3).psi("delivery")).toBeLessThan(0.01);
  });

  it("works alike at altitude: gauge pressures are what count", () => {
    const net = bench({ pressurePa: 78186 });
    const ports = { supply: volume(net, "supply", 40), control: regulated(net, "control") };
    addRelayValve(net, "relay", { ...ports, delivery: volume(net, "delivery", 2) }, { ...RELAY, gain: 1.03 });
    const run = new Bench(net, { supply: 120 }).sweep("set.control", 0, 60, 1).wait(4);
    expect(run.psi("delivery")).toBeCloseTo(1.03 * 60 - 4, 0);
  });

  it("with two controls follows the greater, and holds when one takes over from the other", () => {
    const run = new Bench(relayBench({}, true), { supply: 120 }).sweep("set.control", 0, 60, 1).wait(4);
    expect(run.psi("delivery")).toBeCloseTo(56, 0);
    run.sweep("set.second", 0, 40, 0.5).wait(4);
    expect(run.psi("delivery")).toBeCloseTo(56, 0);
    run.sweep("set.second", 40, 80, 0.5).wait(4);
    expect(run.psi("delivery")).toBeCloseTo(76, 0);
    run.sweep("set.second", 80, 0, 0.5).wait(4);
    expect(run.psi("delivery")).toBeGreaterThan(55.5);
    expect(run.psi("delivery")).toBeLessThan(58.5);
    run.sweep("set.control", 60, 0, 0.5).wait(4);
    expect(run.psi("delivery")).toBeLessThan(0.01);
  });

  it("two equal controls do not add up: the rounding between them is worth less than 0.1 psi", () => {
    const both = new Bench(relayBench({}, true), { supply: 120 });
    both.sweep("set.control", 0, 50, 1).sweep("set.second", 0, 50, 1).wait(4);
    expect(Math.abs(both.psi("delivery") - controlled(50).psi("delivery"))).toBeLessThan(0.1);
  });

  it("stiff, cracks later; with a leaking exhaust seat loses supply air whether or not it applies", () => {
    const stiff = new Bench(relayBench(), { supply: 120 }).set("stiff", 1);
    expect(stiff.sweep("set.control", 0, 13, 1).wait(3).psi("delivery")).toBe(0);
    expect(stiff.sweep("set.control", 13, 30, 1).wait(3).psi("delivery")).toBeCloseTo(30 - 14, 0);
    const leaking = new Bench(relayBench(), { supply: 120 }).set("leak", 1).wait(10);
    expect(leaking.flow("relay.exhaustLeak")).toBeGreaterThan(0);
    expect(leaking.psi("supply")).toBeLessThan(119);
    expect(leaking.psi("delivery")).toBe(0);
  });

  it("refuses a hysteresis as wide as its crack pressure: air would stay in the chambers", () => {
    expect(() => relayBench({ hysteresisPa: 4 * PSI })).toThrow("air stays in the chambers");
  });
});
