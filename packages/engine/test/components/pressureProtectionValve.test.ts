import { describe, expect, it } from "vitest";
import { addAuxiliaryLoad, addPressureProtectionValve, PSI } from "../../src/index.ts";
import { Bench, bench, lever, size, volume } from "./testBench.ts";

/** A 40 L source, and a 10 L auxiliary tank behind the valve whose load can be opened. */
function valveBench(oneWay: boolean) {
  const net = bench();
  const from = volume(net, "source", 40);
  const to = volume(net, "auxiliary", 10);
  const params = { closesPa: 60 * PSI, opensPa: 65 * PSI, oneWay, size: size(5) };
  addPressureProtectionValve(net, "protection", { from, to, failed: lever(net, "failed") }, params);
  addAuxiliaryLoad(net, "doors", to, size(2));
  addAuxiliaryLoad(net, "use", from, size(2));
  return net;
}

// Opens at 60 to 65 psi and isolates on accessory failure: TM 9-2320-272-10 p. 1-61, read.
describe("pressure protection valve", () => {
  it("passes nothing below its closing pressure", () => {
    const run = new Bench(valveBench(true), { source: 59.9, auxiliary: 0 }).wait(60);
    expect(run.psi("auxiliary")).toBe(0);
  });

  it("fills the circuit behind it above that", () => {
    const run = new Bench(valveBench(true), { source: 120, auxiliary: 0 }).wait(60);
    expect(run.psi("source")).toBeCloseTo(96, 0);
    expect(run.psi("source") - run.psi("auxiliary")).toBeLessThan(1.1);
  });

  it("keeps 60 psi for the source when the circuit behind it bursts", () => {
    const run = new Bench(valveBench(true), { source: 120, auxiliary: 119 }).set("doors", 1).wait(300);
    expect(run.psi("auxiliary")).toBeLessThan(1);
    expect(run.psi("source")).toBeGreaterThan(60);
    expect(run.psi("source")).toBeLessThan(62);
  });

  it("one way, keeps the auxiliary's air when the source falls; two-way, gives back what stands above 60 psi", () => {
    const single = new Bench(valveBench(true), { source: 120, auxiliary: 119 }).set("use", 1).wait(120);
    expect(single.psi("source")).toBeLessThan(5);
    expect(single.psi("auxiliary")).toBeGreaterThan(119);
    const both = new Bench(valveBench(false), { source: 120, auxiliary: 119 }).set("use", 1).wait(120);
    expect(both.psi("auxiliary")).toBeGreaterThan(59.9);
    expect(both.psi("auxiliary")).toBeLessThan(64);
  });

  it("failed open, lets a burst auxiliary take everything", () => {
    const run = new Bench(valveBench(true), { source: 120, auxiliary: 119 }).set("failed", 1).set("doors", 1).wait(300);
    expect(run.psi("source")).toBeLessThan(1);
  });

  it("refuses to close above its opening pressure", () => {
    const net = bench();
    const ports = { from: volume(net, "a", 1), to: volume(net, "b", 1) };
    const params = { closesPa: 65 * PSI, opensPa: 60 * PSI, oneWay: true, size: size(5) };
    expect(() => addPressureProtectionValve(net, "p", ports, params)).toThrow("must close below its opening pressure");
  });
});
