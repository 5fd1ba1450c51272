import { mix, Network } from "@brakeyard/engine";
import { describe, expect, it } from "vitest";
import { PSI, Rig, timeAbove, timeBelow } from "./rig.ts";

/** A tank with a hole that a control opens, and a lamp below 50 psi. */
function leakyTank() {
  const net = new Network({ ambient: { pressurePa: 101325, temperatureK: 293.15 } });
  const [open] = net.control({ id: "hole", kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" });
  const tank = net.volume("tank", { volumeM3: 0.01, heat: { kind: "constant", conductanceWPerK: 0 } });
  net.orifice("hole", tank, net.atmosphere, { conductance: 2e-8, criticalRatio: 0.3 }, { factors: [open!] });
  net.watch({
    id: "half",
    mix: mix(-50 * PSI, [tank.pressure, 1], [net.atmosphere.pressure, -1]),
    risingText: "up",
    fallingText: "down",
  });
  return new Rig(net.compile(), { start: { nodes: { tank: { gaugePressurePa: 100 * PSI } } } });
}

describe("the rig", () => {
  it("holds until told, then agrees with the engine's own event", () => {
    const rig = leakyTank();
    rig.wait(1);
    expect(rig.psi("tank")).toBeCloseTo(100, 9);
    rig.set("hole", 1);
    const { "pressure.tank": p } = rig.record(["pressure.tank"], 3);
    expect(timeBelow(p, 50 * PSI)).toBeCloseTo(rig.eventTime("half", false) - 1, 3);
    expect(rig.until(() => rig.psi("tank") < 10, 60)).toBeGreaterThan(0);
    expect(rig.until(() => rig.psi("tank") > 90, 1)).toBeNaN();
  });

  it("says what it does not have", () => {
    expect(() => leakyTank().value("pressure.boiler")).toThrow('no channel "pressure.boiler"');
    expect(leakyTank().eventTime("half", true)).toBeNaN();
  });
});

describe("crossings", () => {
  const trace = { timeS: [0, 1, 2], values: [0, 10, 5] };

  it("lie on the straight line between ticks", () => {
    expect(timeAbove(trace, 2.5)).toBeCloseTo(0.25, 12);
    expect(timeAbove(trace, 0)).toBe(0);
    expect(timeBelow({ ...trace, values: [10, 6, 0] }, 3)).toBeCloseTo(1.5, 12);
  });

  it("are NaN when they never come, or when a value is lost", () => {
    expect(timeAbove(trace, 11)).toBeNaN();
    expect(timeBelow(trace, -1)).toBeNaN();
    expect(timeAbove({ timeS: [0, 1], values: [Number.NaN, Number.NaN] }, 1)).toBeNaN();
  });
});
