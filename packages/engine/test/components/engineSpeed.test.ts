import { describe, expect, it } from "vitest";
import { addEngineSpeed } from "../../src/index.ts";
import { Bench, bench, volume } from "./testBench.ts";

const TIME_S = 0.5;

function engine() {
  const net = bench();
  volume(net, "air", 1);
  addEngineSpeed(net, { idleRpm: 700, maximumRpm: 2400, crankRpm: 200, firesAtRpm: 150, timeConstantS: TIME_S });
  return new Bench(net);
}

function running() {
  return engine().set("key", 1).set("starter", 1).wait(1.5).set("starter", 0).wait(5);
}

// common practice, no source
describe("engine speed", () => {
  it("does nothing without the key", () => {
    const run = engine().set("starter", 1).set("throttle", 1500).wait(3);
    expect(run.read("engine.speed")).toBe(0);
    expect(run.set("starter", 0).set("key", 1).wait(3).read("engine.speed")).toBe(0);
  });

  it("cranks with its time constant and fires at its speed", () => {
    const run = engine().set("key", 1).set("starter", 1).wait(0.3);
    // 200 rpm (1 - exp(-t / tau)) reaches 150 at tau ln 4.
    expect(run.read("engine.speed")).toBeCloseTo(200 * (1 - Math.exp(-0.3 / TIME_S)), 1);
    run.wait(1);
    const fires = run.events().find((event) => event.id === "engine.running");
    expect(Math.abs(fires!.timeS - TIME_S * Math.log(4))).toBeLessThan(1e-3);
    expect(fires!.text).toBe("engine runs");
  });

  it("stops turning when the starter is let go before it fires", () => {
    const run = engine().set("key", 1).set("starter", 1).wait(0.4).set("starter", 0).wait(5);
    expect(run.read("engine.speed")).toBeLessThan(0.1);
    expect(run.events()).toEqual([]);
  });

  it("runs on at idle, and no faster for a starter still held", () => {
    expect(running().read("engine.speed")).toBeCloseTo(700, 0);
    expect(engine().set("key", 1).set("starter", 1).wait(8).read("engine.speed")).toBeCloseTo(700, 0);
  });

  it("follows the throttle; asked for less than idle it idles", () => {
    const run = running().set("throttle", 1500).wait(TIME_S);
    expect(run.read("engine.speed")).toBeCloseTo(1500 - 800 * Math.exp(-1), 0);
    expect(run.wait(5).read("engine.speed")).toBeCloseTo(1500, 0);
    expect(run.set("throttle", 300).wait(5).read("engine.speed")).toBeCloseTo(700, 0);
    expect(() => run.set("throttle", 2500)).toThrow("takes 0 to 2400");
  });

  it("stops with the key, and must be cranked again", () => {
    const run = running();
    run.events();
    expect(run.set("key", 0).wait(5).read("engine.speed")).toBeLessThan(0.1);
    expect(run.events().map((event) => event.text)).toEqual(["engine stops"]);
    expect(run.set("key", 1).wait(3).read("engine.speed")).toBeLessThan(0.1);
    expect(run.set("starter", 1).wait(1.5).set("starter", 0).wait(5).read("engine.speed")).toBeCloseTo(700, 0);
  });

  it("keyed on again while it still turns, does not catch without the starter", () => {
    const run = running().set("key", 0).wait(0.2).set("key", 1).wait(0.01);
    expect(run.read("engine.speed")).toBeGreaterThan(300);
    expect(run.wait(5).read("engine.speed")).toBeLessThan(0.1);
  });
});
