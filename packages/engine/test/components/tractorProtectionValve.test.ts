import { describe, expect, it } from "vitest";
import { addTractorProtectionValve, PSI } from "../../src/index.ts";
import { Bench, bench, lever, regulated, size, volume } from "./testBench.ts";

/** Not below 20 psi in the line break test: a provincial pre-trip page for combinations, read. */
const CLOSES = 25;
const OPENS = 30;

function valveBench() {
  const net = bench();
  const supply = regulated(net, "supply");
  const service = regulated(net, "service");
  const coupling = volume(net, "coupling", 1);
  const params = { closesPa: CLOSES * PSI, opensPa: OPENS * PSI, size: size(8), quickRelease: size(8) };
  addTractorProtectionValve(net, "valve", { service, coupling, supply, failed: lever(net, "failed") }, params);
  return new Bench(net);
}

describe("tractor protection valve", () => {
  it("passes the service line, both ways, while the trailer supply line holds air", () => {
    const run = valveBench().sweep("set.supply", 0, 100, 0.5).sweep("set.service", 0, 60, 0.5).wait(2);
    expect(run.read("opening.valve")).toBe(1);
    expect(run.psi("coupling")).toBeCloseTo(60, 1);
    expect(run.sweep("set.service", 60, 0, 0.5).wait(3).psi("coupling")).toBeLessThan(0.1);
  });

  it("shuts the trailer off when the supply line is lost, above 20 psi: nothing more goes out", () => {
    const run = valveBench().sweep("set.supply", 0, 100, 0.5).sweep("set.service", 0, 60, 0.5).wait(2);
    run.sweep("set.supply", 100, 21, 0.5).wait(0.2);
    expect(run.read("opening.valve")).toBe(0);
    const held = run.psi("coupling");
    expect(run.sweep("set.service", 60, 90, 0.5).wait(20).psi("coupling")).toBeCloseTo(held, 9);
    const empty = valveBench().sweep("set.service", 0, 60, 0.5).wait(20);
    expect(empty.psi("coupling")).toBe(0);
  });

  it("empties the trailer's line itself when the pedal comes up, quicker than back through the tractor", () => {
    const run = valveBench().sweep("set.supply", 0, 100, 0.5).sweep("set.service", 0, 60, 0.5).wait(2);
    run.sweep("set.service", 60, 0, 0.1).wait(0.05);
    expect(run.read("flow.valve.exhaust")).toBeGreaterThan(0);
    expect(-run.read("flow.valve")).toBeLessThan(run.read("flow.valve.exhaust") + 0.02);
    expect(run.wait(3).psi("coupling")).toBeLessThan(0.5);
  });

  it("opens again with the supply line", () => {
    const run = valveBench()
      .sweep("set.service", 0, 40, 0.5)
      .sweep("set.supply", 0, OPENS + 1, 0.5)
      .wait(3);
    expect(run.psi("coupling")).toBeCloseTo(40, 1);
  });

  it("failed open, lets service air out to a lost trailer", () => {
    const run = valveBench().set("failed", 1).sweep("set.service", 0, 40, 0.5).wait(3);
    expect(run.psi("coupling")).toBeCloseTo(40, 1);
  });

  it("refuses to close above its opening pressure", () => {
    const net = bench();
    const ports = { service: volume(net, "a", 1), coupling: volume(net, "b", 1), supply: volume(net, "c", 1) };
    const params = { closesPa: 30 * PSI, opensPa: 30 * PSI, size: size(8), quickRelease: size(8) };
    expect(() => addTractorProtectionValve(net, "t", ports, params)).toThrow("must close below its opening pressure");
  });
});
