import { describe, expect, it } from "vitest";
import { addCouplings, addOpenCoupling } from "../../src/index.ts";
import { Bench, bench, size, volume } from "./testBench.ts";

/** Tractor lines of a litre at 60 (service) and 110 psi (supply), trailer lines of a litre. */
function coupled() {
  const net = bench();
  const ports = {
    tractorService: volume(net, "tractorService", 1),
    tractorSupply: volume(net, "tractorSupply", 1),
    trailerService: volume(net, "trailerService", 1),
    trailerSupply: volume(net, "trailerSupply", 1),
  };
  addCouplings(net, ports, { size: size(8), openEnd: size(20) });
  return net;
}

const FULL = { tractorService: 60, tractorSupply: 110, trailerService: 60, trailerSupply: 110 };
const TRACTOR = { tractorService: 60, tractorSupply: 110 };

// common practice, no source
describe("couplings between tractor and trailer", () => {
  it("straight, join service to service and supply to supply, and lose nothing", () => {
    const run = new Bench(coupled(), TRACTOR).wait(10);
    expect(run.psi("trailerService")).toBeCloseTo(30, 1);
    expect(run.psi("trailerSupply")).toBeCloseTo(55, 1);
    expect(run.flow("coupling.service.lost") + run.flow("coupling.supply.lost")).toBe(0);
  });

  it("the service line parted, empties both of its ends and leaves the supply line alone", () => {
    const run = new Bench(coupled(), FULL).set("coupling.service", 1).wait(0.01);
    expect(run.flow("coupling.service.lost")).toBeGreaterThan(0);
    run.wait(5);
    expect(Math.max(run.psi("tractorService"), run.psi("trailerService"))).toBeLessThan(0.1);
    expect(run.psi("trailerSupply")).toBeCloseTo(110, 6);
  });

  it("the supply line parted, empties both of its ends and leaves the service line alone", () => {
    const run = new Bench(coupled(), FULL).set("coupling.supply", 1).wait(5);
    expect(Math.max(run.psi("tractorSupply"), run.psi("trailerSupply"))).toBeLessThan(0.1);
    expect(run.psi("trailerService")).toBeCloseTo(60, 6);
  });

  it("coupled again, holds air again", () => {
    const run = new Bench(coupled(), FULL).set("coupling.supply", 1).wait(0.02).set("coupling.supply", 0).wait(1);
    const held = run.psi("tractorSupply");
    expect(held).toBeGreaterThan(10);
    expect(run.wait(60).psi("tractorSupply")).toBeCloseTo(held, 6);
  });

  it("crossed, feed each of the trailer's lines from the wrong one", () => {
    const run = new Bench(coupled(), TRACTOR).set("coupling.crossed", 1).wait(10);
    expect(run.psi("trailerSupply")).toBeCloseTo(30, 1);
    expect(run.psi("trailerService")).toBeCloseTo(55, 1);
  });

  it("crossed and then parted at the tractor's supply, let that hose's two ends out: the trailer's service line", () => {
    const run = new Bench(coupled(), FULL).set("coupling.crossed", 1).set("coupling.supply", 1).wait(5);
    expect(Math.max(run.psi("tractorSupply"), run.psi("trailerService"))).toBeLessThan(0.1);
    expect(run.psi("tractorService")).toBeGreaterThan(80);
  });

  it("a cut-out cock shuts its line off, and saves the tractor's end of a parted one", () => {
    const shut = new Bench(coupled(), TRACTOR).set("cock.supply", 1).set("cock.service", 1).wait(10);
    expect(shut.psi("trailerSupply") + shut.psi("trailerService")).toBe(0);
    const parted = new Bench(coupled(), FULL).set("cock.supply", 1).set("coupling.supply", 1).wait(10);
    expect(parted.psi("tractorSupply")).toBeCloseTo(110, 6);
    expect(parted.psi("trailerSupply")).toBeLessThan(0.1);
  });
});

describe("the end of a line without a trailer", () => {
  it("holds under its dummy coupling and lets air out without it", () => {
    const net = bench();
    addOpenCoupling(net, "service", volume(net, "service", 1), size(20));
    const run = new Bench(net, { service: 60 }).wait(60);
    expect(run.psi("service")).toBeCloseTo(60, 9);
    run.set("coupling.service", 1).wait(0.01);
    expect(run.flow("coupling.service.lost")).toBeGreaterThan(0);
    expect(run.wait(3).psi("service")).toBeLessThan(0.1);
  });
});
