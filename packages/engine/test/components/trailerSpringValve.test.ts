import { describe, expect, it } from "vitest";
import { addEmergencyValve, addTrailerSpringValve, PSI } from "../../src/index.ts";
import { Bench, bench, lever, regulated, size, volume } from "./testBench.ts";

const CRACK = 2;

/** A supply line on a bench regulator, springs of 3 L, a trailer tank of 40 L. */
function springBench() {
  const net = bench();
  const supply = regulated(net, "supply");
  const springs = volume(net, "springs", 3);
  const reservoir = volume(net, "tank", 40);
  addTrailerSpringValve(
    net,
    "valve",
    { supply, springs, reservoir, checkFailed: lever(net, "failed") },
    {
      springs: size(4),
      springExhaust: size(8),
      crackPa: CRACK * PSI,
      seatPa: PSI,
      priorityPa: 55 * PSI,
      priorityWidthPa: 5 * PSI,
      reservoirCheck: { size: size(6), crackPa: 0.5 * PSI, openingPa: PSI },
    },
  );
  return net;
}

function supplied(psi = 110) {
  return new Bench(springBench()).sweep("set.supply", 0, psi, 1).wait(60);
}

// common practice, no source
describe("trailer spring brake valve", () => {
  it("releases the springs and fills the tank, each to its crack pressure below the supply line", () => {
    const run = supplied();
    expect(run.psi("springs")).toBeCloseTo(110 - CRACK, 0);
    expect(run.psi("tank")).toBeCloseTo(109, 0);
  });

  it("fills the springs first: the tank waits for the priority pressure", () => {
    const run = supplied(50);
    expect(run.psi("springs")).toBeCloseTo(50 - CRACK, 0);
    expect(run.psi("tank")).toBe(0);
  });

  it("applies the springs at once when the supply line is lost, and leaves the tank its air", () => {
    const run = supplied().sweep("set.supply", 110, 0, 0.1);
    expect(run.until(() => run.psi("springs") < 60, 5)).toBeLessThan(0.5);
    expect(run.wait(10).psi("tank")).toBeCloseTo(109, 0);
  });

  it("leaves nothing in the springs, which have their full force only at zero", () => {
    const run = supplied().sweep("set.supply", 110, 0, 0.1).wait(20);
    expect(run.psi("springs")).toBeLessThan(0.05);
  });

  it("does not move the springs for a small dip of the supply line", () => {
    const run = supplied().sweep("set.supply", 110, 109, 0.5).wait(5);
    expect(run.flow("valve.exhaust")).toBe(0);
    expect(run.psi("springs")).toBeCloseTo(110 - CRACK, 0);
  });

  it("with its check failed loses the tank with the supply line", () => {
    const run = supplied().set("failed", 1).sweep("set.supply", 110, 0, 0.5).wait(60);
    expect(run.psi("tank")).toBeLessThan(1);
  });
});

describe("emergency valve of a trailer without spring brakes", () => {
  function emergencyBench() {
    const net = bench();
    const supply = regulated(net, "supply");
    const reservoir = volume(net, "tank", 40);
    const service = regulated(net, "service");
    const control = volume(net, "control", 1);
    const check = { size: size(6), crackPa: 0.5 * PSI, openingPa: PSI };
    const params = { appliesPa: 45 * PSI, widthPa: 5 * PSI, size: size(5), check };
    addEmergencyValve(net, "valve", { supply, reservoir, service, control }, params);
    return new Bench(net).sweep("set.supply", 0, 110, 1).wait(60);
  }

  it("fills its tank and passes the service line on while the supply line stands", () => {
    const run = emergencyBench();
    expect(run.psi("tank")).toBeCloseTo(109, 0);
    expect(run.psi("control")).toBeLessThan(0.1);
    expect(run.sweep("set.service", 0, 40, 0.2).wait(2).psi("control")).toBeCloseTo(40, 0);
    expect(run.sweep("set.service", 40, 0, 0.2).wait(3).psi("control")).toBeLessThan(0.1);
  });

  it("lets the tank into the brakes when the supply line is lost, and holds it there with the service line empty", () => {
    const run = emergencyBench().sweep("set.supply", 110, 0, 0.2);
    expect(run.until(() => run.psi("control") > 60, 5)).toBeLessThan(0.5);
    const held = run.wait(10).psi("control");
    expect(held).toBeCloseTo((109.3 * 40) / 41, 0);
    expect(run.wait(300).psi("control")).toBeCloseTo(held, 3);
  });

  it("lets the brakes off into the service line once the supply line is back", () => {
    const run = emergencyBench().sweep("set.supply", 110, 0, 0.2).wait(10).sweep("set.supply", 0, 110, 1).wait(10);
    expect(run.psi("control")).toBeLessThan(0.1);
    expect(run.psi("tank")).toBeGreaterThan(100);
  });
});
