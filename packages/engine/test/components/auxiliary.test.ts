import { describe, expect, it } from "vitest";
import { addAuxiliaryLoad } from "../../src/index.ts";
import { Bench, bench, size, volume } from "./testBench.ts";

function loaded() {
  const net = bench();
  addAuxiliaryLoad(net, "doors", volume(net, "tank", 10), size(2));
  return new Bench(net, { tank: 100 });
}

// common practice, no source
describe("auxiliary load", () => {
  it("takes nothing shut, and keeps its circuit's air", () => {
    const run = loaded().wait(600);
    expect(run.flow("load.doors")).toBe(0);
    expect(run.psi("tank")).toBeCloseTo(100, 9);
  });

  it("takes air in proportion to how far it is open", () => {
    const half = loaded().set("doors", 0.5).wait(0.01).flow("load.doors");
    const whole = loaded().set("doors", 1).wait(0.01).flow("load.doors");
    expect(half).toBeGreaterThan(0.005);
    expect(whole / half).toBeCloseTo(2, 2);
  });

  it("left open, empties its circuit", () => {
    expect(loaded().set("doors", 1).wait(60).psi("tank")).toBeLessThan(0.1);
  });

  it("refuses a load of more than all", () => {
    expect(() => loaded().set("doors", 1.5)).toThrow("takes 0 to 1, not 1.5");
  });
});
