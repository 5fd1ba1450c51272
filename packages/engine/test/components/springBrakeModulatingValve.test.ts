import { describe, expect, it } from "vitest";
import { addSpringBrakeModulatingValve, PSI } from "../../src/index.ts";
import { Bench, bench, regulated, size, volume } from "./testBench.ts";

/** Limited hold-off of about 95 psi, changeover at about 55 psi of the primary reservoir: TM 5-3810-306-20 p. 45, read. */
const LIMIT = 95;
const CHANGEOVER = 55;
const GAIN = 1.2;
const HYSTERESIS = 2;

function valveBench() {
  const net = bench();
  const parking = regulated(net, "parking");
  const primaryReservoir = regulated(net, "primary");
  const secondaryDelivery = regulated(net, "secondary");
  const delivery = volume(net, "springs", 1.5);
  addSpringBrakeModulatingValve(
    net,
    "valve",
    { parking, delivery, primaryReservoir, secondaryDelivery },
    {
      limitPa: LIMIT * PSI,
      changeoverPa: CHANGEOVER * PSI,
      changeoverWidthPa: 2 * PSI,
      gain: GAIN,
      hysteresisPa: HYSTERESIS * PSI,
      seatPa: PSI,
      supply: size(3),
      exhaust: size(3),
    },
  );
  return net;
}

/** Springs released with the primary at a pressure. */
function released(primary: number, parking = 120) {
  return new Bench(valveBench()).sweep("set.primary", 0, primary, 0.5).sweep("set.parking", 0, parking, 0.5).wait(6);
}

describe("spring brake modulating valve", () => {
  it("with the primary up passes the parking air, to its limit of 95 psi", () => {
    expect(released(120).psi("springs")).toBeCloseTo(LIMIT, 0);
    expect(released(120, 80).psi("springs")).toBeCloseTo(80, 0);
  });

  it("with the primary up does not care about the pedal", () => {
    const run = released(100).sweep("set.secondary", 0, 80, 0.5).wait(5);
    expect(run.psi("springs")).toBeCloseTo(LIMIT, 0);
    expect(run.flow("valve.exhaust")).toBe(0);
  });

  it("with the primary lost holds the springs off until the pedal goes down", () => {
    const run = released(120).sweep("set.primary", 120, 0, 2).wait(30);
    expect(run.psi("springs")).toBeGreaterThan(LIMIT - 2);
  });

  it("with the primary lost lets spring air out in proportion: p = min(parking, limit) - gain x secondary", () => {
    for (const pedal of [20, 40, 60]) {
      const run = released(120).sweep("set.primary", 120, 0, 1).sweep("set.secondary", 0, pedal, 1).wait(6);
      const wanted = LIMIT - GAIN * pedal;
      expect(run.psi("springs")).toBeGreaterThan(wanted - 0.1);
      expect(run.psi("springs")).toBeLessThan(wanted + HYSTERESIS / 2 + 0.2);
    }
    // With less parking air than the limit, it counts from that.
    const low = released(120, 70).sweep("set.primary", 120, 0, 1).sweep("set.secondary", 0, 30, 1).wait(6);
    expect(low.psi("springs")).toBeGreaterThan(70 - GAIN * 30 - 0.1);
    expect(low.psi("springs")).toBeLessThan(70 - GAIN * 30 + HYSTERESIS / 2 + 0.3);
  });

  it("at full pedal lets all of it out, and not below nothing", () => {
    const run = released(120).sweep("set.primary", 120, 0, 1).sweep("set.secondary", 0, 110, 1).wait(8);
    expect(run.psi("springs")).toBeLessThan(0.05);
    expect(run.psi("springs")).toBeGreaterThan(-0.01);
  });

  it("feeds it back on release, so that the pedal can be used again, at the cost of parking air", () => {
    const run = released(120).sweep("set.primary", 120, 0, 1);
    for (let k = 0; k < 3; k++) {
      run.sweep("set.secondary", 0, 60, 0.5).wait(4);
      expect(run.psi("springs")).toBeLessThan(30);
      run.sweep("set.secondary", 60, 0, 0.5).wait(6);
      expect(run.psi("springs")).toBeGreaterThan(LIMIT - HYSTERESIS);
    }
  });

  it("changes over below 55 psi of the primary, not above", () => {
    const pressed = (primary: number) =>
      released(120).sweep("set.primary", 120, primary, 1).sweep("set.secondary", 0, 50, 1).wait(6).psi("springs");
    expect(pressed(CHANGEOVER + 3)).toBeCloseTo(LIMIT, 0);
    expect(pressed(CHANGEOVER - 3)).toBeLessThan(LIMIT - GAIN * 50 + 2);
  });

  it("parks with the parking control whatever stands where", () => {
    for (const primary of [120, 0]) {
      const run = released(120).sweep("set.primary", 120, primary, 1).sweep("set.parking", 120, 0, 0.5).wait(5);
      expect(run.psi("springs")).toBeLessThan(0.1);
    }
  });
});
