import { describe, expect, it } from "vitest";
import { addLeak, addRegulator, PSI } from "../../src/index.ts";
import { Bench, bench, lever, size, volume } from "./testBench.ts";

function regulatorBench() {
  const net = bench();
  const from = volume(net, "source", 100);
  const to = volume(net, "outlet", 5);
  addRegulator(net, "regulator", { from, to }, { setPa: 94 * PSI, widthPa: PSI, size: size(10) });
  addLeak(net, "use", to, size(0.5), [lever(net, "use")]);
  return net;
}

// common practice, no source
describe("pressure regulator", () => {
  it("fills its outlet to the set pressure and no further", () => {
    const run = new Bench(regulatorBench(), { source: 150 }).wait(30);
    expect(run.psi("outlet")).toBeGreaterThan(93.9);
    expect(run.psi("outlet")).toBeLessThanOrEqual(94);
  });

  it("feeds a use of air within its width", () => {
    const run = new Bench(regulatorBench(), { source: 150, outlet: 94 }).set("use", 1).wait(10);
    expect(run.psi("outlet")).toBeGreaterThan(93);
    expect(run.flow("regulator")).toBeCloseTo(run.flow("leak.use"), 5);
  });

  it("shuts against an outlet above its setting, and gives what a low source has", () => {
    const high = new Bench(regulatorBench(), { source: 150, outlet: 100 }).wait(30);
    expect(high.psi("outlet")).toBeCloseTo(100, 9);
    const low = new Bench(regulatorBench(), { source: 60 }).wait(30);
    expect(low.psi("outlet")).toBeCloseTo((60 * 100) / 105, 1);
  });
});
