import { describe, expect, it } from "vitest";
import { addAntilockModulator } from "../../src/index.ts";
import { Bench, bench, regulated, size, volume } from "./testBench.ts";

function modulated() {
  const net = bench();
  const inlet = regulated(net, "line");
  const outlet = volume(net, "chamber", 1);
  addAntilockModulator(net, "rear.left", { inlet, outlet }, { through: size(5), exhaust: size(5) });
  return new Bench(net).sweep("set.line", 0, 80, 0.5).wait(2);
}

const HOLD = "modulator.rear.left.hold";
const DUMP = "modulator.rear.left.dump";

// common practice, no source
describe("antilock modulator", () => {
  it("without power is an open pipe, both ways", () => {
    const run = modulated();
    expect(run.psi("chamber")).toBeCloseTo(80, 1);
    expect(run.sweep("set.line", 80, 30, 0.5).wait(2).psi("chamber")).toBeCloseTo(30, 1);
  });

  it("holding, keeps the chamber where it is whatever the line does", () => {
    const run = modulated().set(HOLD, 1).sweep("set.line", 80, 20, 0.5).wait(5);
    expect(run.psi("chamber")).toBeCloseTo(80, 1);
    expect(run.flow("modulator.rear.left")).toBe(0);
  });

  it("holding and dumping, lets the chamber down and takes nothing from the line", () => {
    const run = modulated().set(HOLD, 1).set(DUMP, 1).wait(0.05);
    const falling = run.psi("chamber");
    expect(falling).toBeLessThan(75);
    expect(falling).toBeGreaterThan(20);
    expect(run.flow("modulator.rear.left")).toBeLessThan(0);
    expect(run.wait(3).psi("chamber")).toBeLessThan(0.01);
    expect(run.psi("line")).toBeCloseTo(80, 1);
  });

  it("let go, builds up again", () => {
    const run = modulated().set(HOLD, 1).set(DUMP, 1).wait(0.2).set(DUMP, 0).wait(0.1);
    const held = run.psi("chamber");
    expect(run.wait(1).psi("chamber")).toBeCloseTo(held, 6);
    expect(run.set(HOLD, 0).wait(2).psi("chamber")).toBeCloseTo(80, 1);
  });
});
