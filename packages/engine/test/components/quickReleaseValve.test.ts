import { describe, expect, it } from "vitest";
import { addQuickReleaseValve, not, PSI } from "../../src/index.ts";
import { Bench, bench, lever, regulated, size, volume } from "./testBench.ts";

/** A line of one litre, two chambers of a litre at the valve. */
function valveBench() {
  const net = bench();
  const line = regulated(net, "line");
  const outlets = { left: volume(net, "left", 1), right: volume(net, "right", 1) };
  const params = { crackPa: PSI, seatPa: PSI, inlet: size(1.8), exhaust: size(3) };
  addQuickReleaseValve(net, "valve", { line, outlets, exhaustHealth: not(net, "free", lever(net, "frozen")) }, params);
  return net;
}

function applied(psi: number) {
  return new Bench(valveBench()).sweep("set.line", 0, psi, 0.3).wait(4);
}

// Crack 1 to 3 psi: from memory.
describe("quick-release valve", () => {
  it("passes the line's air to both chambers, less its crack pressure", () => {
    const run = applied(60);
    expect(run.psi("left")).toBeCloseTo(59, 0);
    expect(run.psi("right")).toBe(run.psi("left"));
    expect(run.flow("valve.exhaust")).toBe(0);
  });

  it("lets air in when a spring pulls a rod out behind it, unless its exhaust is frozen", () => {
    const drawn = (frozen: number) => new Bench(valveBench(), { left: -6 }).set("frozen", frozen).wait(0.3).psi("left");
    expect(drawn(0)).toBeGreaterThan(-0.6);
    expect(drawn(1)).toBeLessThan(drawn(0));
  });

  it("holds when the line holds", () => {
    const run = applied(60);
    const before = run.psi("left");
    expect(run.wait(60).psi("left")).toBeCloseTo(before, 1);
    expect(run.flow("valve.exhaust")).toBe(0);
  });

  it("empties the chambers at the valve when the line falls, nothing goes back up the line, and nothing stays", () => {
    const run = applied(90).sweep("set.line", 90, 0, 0.1);
    expect(run.flow("valve.exhaust")).toBeGreaterThan(0.01);
    expect(run.flow("valve.left")).toBeLessThan(0);
    expect(run.wait(2).psi("left")).toBeLessThan(0.06);
  });

  it("follows a line that falls part of the way", () => {
    const run = applied(80).sweep("set.line", 80, 40, 1).wait(3);
    expect(run.psi("left")).toBeGreaterThan(39.5);
    expect(run.psi("left")).toBeLessThan(40.6);
  });

  it("frozen shut, keeps the brakes on", () => {
    const run = applied(60).set("frozen", 1).sweep("set.line", 60, 0, 0.3).wait(20);
    expect(run.psi("left")).toBeGreaterThan(58);
    expect(run.set("frozen", 0).wait(3).psi("left")).toBeLessThan(0.06);
  });
});
