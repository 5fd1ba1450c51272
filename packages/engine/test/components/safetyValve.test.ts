import { describe, expect, it } from "vitest";
import { addSafetyValve, PSI } from "../../src/index.ts";
import { Bench, bench, lever, size, volume } from "./testBench.ts";

/** A 20 L tank that a store of 200 psi fills through a hole. */
function valveBench() {
  const net = bench();
  const tank = volume(net, "tank", 20);
  const store = volume(net, "store", 1e6);
  net.orifice("pump", store, tank, size(0.3), { factors: [lever(net, "pump")] });
  addSafetyValve(net, "safety", { from: tank }, { opensPa: 150 * PSI, reseatsPa: 135 * PSI, size: size(20) });
  return net;
}

// 150 psi: TM 9-2320-272-10 p. 1-59, read. Reseating some 10 % below: common practice, no source.
describe("safety valve", () => {
  it("blows at its setting, reseats below it, and blows again while the cause goes on", () => {
    const run = new Bench(valveBench(), { tank: 140, store: 200 }).set("pump", 1);
    let most = 0;
    for (let k = 0; k < 4000; k++) most = Math.max(most, run.wait(0.01).psi("tank"));
    expect(most).toBeGreaterThan(149.5);
    expect(most).toBeLessThan(150.1);
    const events = run.events().filter((event) => event.id === "safety.open");
    expect(events.length).toBeGreaterThan(3);
    expect(events.slice(0, 2).map((event) => event.text)).toEqual(["safety valve blows", "safety valve reseats"]);
  });

  it("is shut below its setting, and after a blow stays shut until it is reached again", () => {
    const run = new Bench(valveBench(), { tank: 151, store: 200 }).wait(10);
    expect(run.psi("tank")).toBeCloseTo(135, 1);
    const held = run.psi("tank");
    expect(run.wait(600).psi("tank")).toBeCloseTo(held, 9);
  });

  it("refuses to reseat above its setting", () => {
    const net = bench();
    const from = volume(net, "tank", 20);
    const params = { opensPa: 150 * PSI, reseatsPa: 150 * PSI, size: size(20) };
    expect(() => addSafetyValve(net, "safety", { from }, params)).toThrow("must reseat below its opening pressure");
  });
});
