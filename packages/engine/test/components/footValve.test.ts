import { describe, expect, it } from "vitest";
import { addFootValve, addLeak, type FootValveParams, not, PSI } from "../../src/index.ts";
import { Bench, bench, lever, size, volume } from "./testBench.ts";

/** Typical values: crack 3 to 6 psi, hysteresis 2 to 6, secondary 1 to 3 below the primary: from memory. */
const VALVE: FootValveParams = {
  freeTravel: 0.1,
  crackPa: 4 * PSI,
  graduatedPa: 105 * PSI,
  graduatedTravel: 0.92,
  hysteresisPa: 3 * PSI,
  secondaryLagPa: 2 * PSI,
  mechanicalLag: 0.05,
  seatPa: 2 * PSI,
  supply: size(6),
  exhaust: size(6),
};
const LAG = 2;

/** Two tanks of 40 L and a litre behind each section. */
function footBench(changes: Partial<FootValveParams> = {}) {
  const net = bench();
  const primarySupply = volume(net, "primary", 40);
  const secondarySupply = volume(net, "secondary", 40);
  const primaryDelivery = volume(net, "rear", 1);
  const secondaryDelivery = volume(net, "front", 1);
  const blocked = lever(net, "blocked");
  addFootValve(
    net,
    { primarySupply, primaryDelivery, secondarySupply, secondaryDelivery, exhaustHealth: not(net, "free", blocked) },
    { ...VALVE, ...changes },
  );
  addLeak(net, "rear", primaryDelivery, size(0.1), [lever(net, "leak")]);
  return net;
}

function pressed(travel: number, tanks = { primary: 120, secondary: 120 }) {
  return new Bench(footBench(), tanks).sweep("pedal", 0, travel, 2).wait(3);
}

/** Graduated pressure asked for at a travel, psi: a straight line from crack to the end of graduation. */
function asked(travel: number): number {
  const start = VALVE.freeTravel + 0.005;
  return 4 + (101 * (travel - start)) / (VALVE.graduatedTravel - start);
}

describe("foot valve", () => {
  it("passes nothing within its free travel, then jumps to its first pressure", () => {
    const run = pressed(0.1);
    expect(run.psi("rear")).toBe(0);
    run.sweep("pedal", 0.1, 0.105, 0.1).wait(3);
    expect(run.psi("rear")).toBeCloseTo(4, 1);
  });

  it("graduates with travel: equal steps of the pedal, equal steps of pressure", () => {
    for (const travel of [0.2, 0.4, 0.6, 0.8]) expect(pressed(travel).psi("rear")).toBeCloseTo(asked(travel), 0);
    const steps = [0.2, 0.4, 0.6, 0.8].map((travel) => pressed(travel).psi("rear"));
    expect(steps[2]! - steps[1]!).toBeCloseTo(steps[1]! - steps[0]!, 1);
    expect(steps[3]! - steps[2]!).toBeCloseTo(steps[2]! - steps[1]!, 1);
  });

  it("laps: held, it passes nothing and the pressure stands", () => {
    const run = pressed(0.5);
    const before = run.psi("rear");
    run.wait(60);
    expect(run.psi("rear")).toBeCloseTo(before, 1);
    expect(Math.abs(run.flow("footValve.primary"))).toBeLessThan(1e-6);
    expect(run.flow("footValve.primary.exhaust")).toBe(0);
  });

  it("has its hysteresis between pressing and letting up to the same travel", () => {
    const rising = pressed(0.5).psi("rear");
    const falling = pressed(0.7).sweep("pedal", 0.7, 0.5, 2).wait(3).psi("rear");
    expect(falling - rising).toBeGreaterThan(2.7);
    expect(falling - rising).toBeLessThan(3.1);
  });

  it("does not move for a movement of the foot within the hysteresis", () => {
    const run = pressed(0.5);
    const before = run.psi("rear");
    const share = (2 / 101) * (VALVE.graduatedTravel - VALVE.freeTravel);
    run.sweep("pedal", 0.5, 0.5 - share, 0.5).wait(3);
    expect(run.psi("rear")).toBeCloseTo(before, 1);
  });

  it("feeds a leak behind it and holds the pressure nearly up", () => {
    const run = pressed(0.5);
    const before = run.psi("rear");
    run.set("leak", 1).wait(5);
    expect(before - run.psi("rear")).toBeLessThan(2);
    expect(run.flow("footValve.primary")).toBeCloseTo(run.flow("leak.rear"), 6);
  });

  it("keeps the secondary below the primary by its lag on the way up and half of it on the way down", () => {
    const up = pressed(0.5);
    expect(up.psi("rear") - up.psi("front")).toBeCloseTo(LAG, 1);
    const down = pressed(0.7).sweep("pedal", 0.7, 0.5, 2).wait(3);
    expect(down.psi("rear") - down.psi("front")).toBeGreaterThan(LAG / 2 - 0.1);
    expect(down.psi("rear") - down.psi("front")).toBeLessThan(LAG / 2 + 0.3);
  });

  it("with the primary gone still works the secondary, further down", () => {
    const gone = { primary: 0, secondary: 120 };
    const travel = 0.5;
    const whole = pressed(travel).psi("front");
    const alone = pressed(travel, gone);
    expect(alone.psi("rear")).toBeLessThan(0.01);
    const slope = 101 / (VALVE.graduatedTravel - VALVE.freeTravel - 0.005);
    expect(whole - alone.psi("front")).toBeCloseTo(slope * VALVE.mechanicalLag, 0);
    expect(pressed(0.14, gone).psi("front")).toBe(0);
    expect(alone.sweep("pedal", travel, 1, 1).wait(5).psi("front")).toBeGreaterThan(114);
  });

  it("with the secondary gone works the primary as before", () => {
    const alone = pressed(0.5, { primary: 120, secondary: 0 });
    expect(alone.psi("rear")).toBeCloseTo(pressed(0.5).psi("rear"), 4);
    expect(alone.psi("front")).toBeLessThan(0.01);
  });

  it("at full travel equalises both sections with their tanks", () => {
    const run = pressed(1, { primary: 120, secondary: 90 });
    expect(run.psi("primary") - run.psi("rear")).toBeLessThan(0.05);
    expect(run.psi("secondary") - run.psi("front")).toBeLessThan(0.05);
    // From 120 psi, a litre out of 41: both stand where the mass says.
    expect(run.psi("rear")).toBeCloseTo((120 * 40) / 41, 1);
  });

  it("gives nothing above what its tank has when more is asked for", () => {
    const run = pressed(0.9, { primary: 60, secondary: 60 });
    expect(run.psi("rear")).toBeLessThan(60);
    expect(run.psi("rear")).toBeGreaterThan(58);
  });

  it("empties both sections when the pedal is let go, in about a second", () => {
    const run = pressed(0.9).set("pedal", 0).wait(2);
    expect(run.psi("rear")).toBeLessThan(0.01);
    expect(run.wait(2).psi("front")).toBeLessThan(0.05);
  });

  for (const [hysteresis, lag] of [
    [3, 1.5],
    [6, 1],
    [6, 3],
    [2, 0],
  ] as const) {
    it(`empties the secondary too with a hysteresis of ${hysteresis} psi and a lag of ${lag}`, () => {
      const net = footBench({ hysteresisPa: hysteresis * PSI, secondaryLagPa: lag * PSI });
      const run = new Bench(net, { primary: 120, secondary: 120 }).sweep("pedal", 0, 0.8, 1).wait(2);
      run.sweep("pedal", 0.8, 0, 0.3).wait(5);
      expect(run.psi("rear")).toBeLessThan(0.05);
      expect(run.psi("front")).toBeLessThan(0.05);
    });
  }

  it("with its exhaust blocked keeps the brakes on", () => {
    const run = pressed(0.6);
    const before = run.psi("rear");
    run.set("blocked", 1).sweep("pedal", 0.6, 0, 0.3).wait(30);
    expect(run.psi("rear")).toBeCloseTo(before, 1);
    expect(run.set("blocked", 0.5).wait(5).psi("rear")).toBeLessThan(0.1);
  });
});
