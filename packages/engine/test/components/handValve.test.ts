import { describe, expect, it } from "vitest";
import { addHandValve, PSI } from "../../src/index.ts";
import { Bench, bench, size, volume } from "./testBench.ts";

function handBench() {
  const net = bench();
  const supply = volume(net, "supply", 40);
  const delivery = volume(net, "delivery", 1);
  const flows = { supply: size(3), exhaust: size(3) };
  addHandValve(net, { supply, delivery }, { maximumPa: 90 * PSI, hysteresisPa: 3 * PSI, seatPa: PSI, ...flows });
  return net;
}

function pulled(travel: number, supply = 120) {
  return new Bench(handBench(), { supply }).sweep("handValve", 0, travel, 1).wait(4);
}

// common practice, no source
describe("hand valve for the trailer", () => {
  it("gives nothing until a twentieth of its travel, then graduates to its full pressure", () => {
    expect(pulled(0.05).psi("delivery")).toBe(0);
    expect(pulled(0.525).psi("delivery")).toBeCloseTo(45 - 1.5, 0);
    expect(pulled(1).psi("delivery")).toBeCloseTo(90 - 1.5, 0);
  });

  it("never gives more than it has, stays where it is put, and has its hysteresis", () => {
    expect(pulled(1, 60).psi("delivery")).toBeLessThan(60);
    const run = pulled(0.5);
    const held = run.psi("delivery");
    expect(run.wait(60).psi("delivery")).toBeCloseTo(held, 1);
    const falling = pulled(0.8).sweep("handValve", 0.8, 0.5, 1).wait(4).psi("delivery");
    expect(falling - held).toBeCloseTo(3, 0);
  });

  it("empties its line when it is let go", () => {
    expect(pulled(0.8).sweep("handValve", 0.8, 0, 0.3).wait(4).psi("delivery")).toBeLessThan(0.01);
  });
});
