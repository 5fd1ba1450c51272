import { describe, expect, it } from "vitest";
import { addLeak, addPushPullControl, PSI } from "../../src/index.ts";
import { Bench, bench, lever, size, volume } from "./testBench.ts";

const POPS = 30;
const HOLDS = 32;

/** Parking control on a 10 L supply that can be bled, and a trailer supply control that needs it and feels its own line. */
function controlBench() {
  const net = bench();
  const supply = volume(net, "supply", 10);
  const delivery = volume(net, "springs", 1);
  const line = volume(net, "trailer", 1);
  const settings = { popsOutPa: POPS * PSI, holdsInPa: HOLDS * PSI, supply: size(3), exhaust: size(3) };
  const parking = addPushPullControl(
    net,
    "parking",
    "parking control",
    { supply, delivery, sensed: supply, needs: [], sticks: lever(net, "sticks") },
    settings,
  );
  addPushPullControl(
    net,
    "trailerSupply",
    "trailer supply control",
    { supply, delivery: line, sensed: line, needs: [parking] },
    { ...settings, popsOutPa: 40 * PSI, holdsInPa: 40 * PSI },
  );
  addLeak(net, "bleed", supply, size(1), [lever(net, "bleed")]);
  addLeak(net, "trailer", line, size(30), [lever(net, "parted")]);
  return net;
}

function texts(run: Bench): string[] {
  return run.events().map((event) => event.text);
}

describe("parking control", () => {
  it("pushed in fills the springs and stays; pulled out lets them down to nothing", () => {
    const run = new Bench(controlBench(), { supply: 120 }).set("parking", 1).wait(3);
    expect(run.read("control.parking")).toBe(1);
    expect(run.psi("springs")).toBeCloseTo((120 * 10) / 11, 0);
    run.set("parking", 0).wait(3);
    expect(run.psi("springs")).toBeLessThan(0.01);
    expect(run.psi("supply")).toBeGreaterThan(100);
    expect(texts(run)).toEqual(["parking control in", "parking control out"]);
  });

  it("pops out by itself when its supply falls to its setting, once, between 20 and 45 psi", () => {
    // 20 to 45 psi: a truck operator's and the model licence manual, read.
    const run = new Bench(controlBench(), { supply: 60 }).set("parking", 1).wait(3).set("bleed", 1);
    const popped = run.until(() => run.read("control.parking") === 0, 120);
    expect(popped).toBeGreaterThan(1);
    expect(run.psi("supply")).toBeCloseTo(POPS, 0);
    expect(run.wait(60).psi("springs")).toBeLessThan(0.01);
    expect(texts(run)).toEqual(["parking control in", "parking control out"]);
  });

  it("does not stay in below its hold-in pressure, and stays in above it", () => {
    for (const psi of [0, 20, HOLDS - 0.5]) {
      const low = new Bench(controlBench(), { supply: psi }).wait(0.01).set("parking", 1).wait(1);
      expect(low.read("control.parking")).toBe(0);
      expect(low.psi("springs")).toBe(0);
      expect(texts(low)).toEqual(["parking control in", "parking control out: it does not stay in"]);
    }
    const enough = new Bench(controlBench(), { supply: HOLDS + 5 }).wait(0.01).set("parking", 1).wait(1);
    expect(enough.read("control.parking")).toBe(1);
  });

  it("held in by hand stays in at any pressure and pops when the hand lets go", () => {
    const run = new Bench(controlBench(), { supply: 20 }).set("hold.parking", 1).set("parking", 1).wait(2);
    expect(run.read("control.parking")).toBe(1);
    expect(run.psi("springs")).toBeGreaterThan(15);
    expect(run.set("hold.parking", 0).wait(0.01).read("control.parking")).toBe(0);
    expect(run.wait(3).psi("springs")).toBeLessThan(0.01);
  });

  it("sticking, stays in to nothing; freed, pops at once", () => {
    const run = new Bench(controlBench(), { supply: 60 }).set("sticks", 1).set("parking", 1).wait(2).set("bleed", 1);
    run.wait(120);
    expect(run.psi("supply")).toBeLessThan(1);
    expect(run.read("control.parking")).toBe(1);
    expect(run.set("sticks", 0).wait(0.01).read("control.parking")).toBe(0);
  });
});

describe("trailer supply control", () => {
  /** Both in, lines full. */
  function coupled(psi = 120) {
    const run = new Bench(controlBench(), { supply: psi }).set("parking", 1).wait(2);
    return run.set("hold.trailerSupply", 1).set("trailerSupply", 1).wait(2).set("hold.trailerSupply", 0).wait(0.1);
  }

  it("needs a hand until its line has filled, then stays", () => {
    const run = new Bench(controlBench(), { supply: 120 }).set("parking", 1).wait(2).set("trailerSupply", 1).wait(1);
    expect(run.read("control.trailerSupply")).toBe(0);
    expect(coupled().read("control.trailerSupply")).toBe(1);
  });

  it("pops when the parking control is pulled, and cannot be pushed in before it", () => {
    const run = coupled().set("parking", 0).wait(0.01);
    expect(run.read("control.trailerSupply")).toBe(0);
    expect(run.wait(3).psi("trailer")).toBeLessThan(0.01);
    expect(run.set("trailerSupply", 1).wait(0.01).read("control.trailerSupply")).toBe(0);
    run.set("hold.trailerSupply", 1).set("trailerSupply", 1).wait(1);
    expect(run.read("control.trailerSupply")).toBe(0);
  });

  it("pops when its line is lost, between 45 and 20 psi, and the supply behind it holds", () => {
    // Between 45 and 20 psi: a provincial pre-trip page for combinations, read in part.
    const run = coupled();
    run.set("parted", 1).until(() => run.read("control.trailerSupply") === 0, 5);
    expect(run.psi("trailer")).toBeLessThan(45);
    run.wait(2);
    const held = run.psi("supply");
    expect(held).toBeGreaterThan(80);
    expect(run.wait(60).psi("supply")).toBeCloseTo(held, 6);
    expect(run.read("control.parking")).toBe(1);
  });

  it("refuses a hold-in pressure below its pop-out pressure", () => {
    const net = bench();
    const [supply, delivery] = [volume(net, "supply", 1), volume(net, "delivery", 1)];
    const params = { popsOutPa: 30 * PSI, holdsInPa: 29 * PSI, supply: size(3), exhaust: size(3) };
    expect(() =>
      addPushPullControl(net, "x", "control", { supply, delivery, sensed: supply, needs: [] }, params),
    ).toThrow("hold-in pressure must not lie below pop-out");
  });
});
