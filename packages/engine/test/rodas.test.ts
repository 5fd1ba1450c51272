import { describe, expect, it } from "vitest";
import { mix, Network, REFERENCE_DENSITY, Simulation } from "../src/index.ts";
import { GAMMA_AIR, GAS_CONSTANT } from "../src/numerics/gas.ts";
import { Discrete } from "../src/run/discrete.ts";
import { makePlan } from "../src/run/plan.ts";
import { startValues } from "../src/run/start.ts";
import { Stepper } from "../src/run/stepper.ts";
import { System } from "../src/run/system.ts";

const AMBIENT = { pressurePa: 1e5, temperatureK: 293.15 };
const START_PA = 9e5;

/** One tank without wall heat, blowing down through a choked orifice; and a needle that follows it. */
function blowDown() {
  const net = new Network({ ambient: AMBIENT });
  const tank = net.volume("tank", { volumeM3: 0.02, heat: { kind: "constant", conductanceWPerK: 0 } });
  net.orifice("hole", tank, net.atmosphere, { conductance: 2e-8, criticalRatio: 0.3 });
  net.lag({
    name: "needle",
    mix: mix(0, [tank.pressure, 1]),
    timeConstantS: 0.3,
    initial: "mix",
    feedsBack: false,
    scale: 1,
  });
  return net.compile();
}

/** Adiabatic blow-down through a choked orifice in closed form: with g = 1.4, p = p0 (1 + 0.2 w0 t / m0)^-7. */
function exactPressure(t: number): number {
  const m0 = (START_PA * 0.02) / (GAS_CONSTANT * AMBIENT.temperatureK);
  const w0 = 2e-8 * REFERENCE_DENSITY * START_PA;
  return START_PA / (1 + (0.5 * (GAMMA_AIR - 1) * w0 * t) / m0) ** 7;
}

function errorAtFixedStep(steps: number, atHalf = false): number {
  const plan = makePlan(blowDown());
  const system = new System(plan, undefined);
  const stepper = new Stepper(system, undefined);
  stepper.start.set(
    startValues(plan, new Discrete(plan), {
      nodes: { tank: { gaugePressurePa: START_PA - AMBIENT.pressurePa, temperatureK: AMBIENT.temperatureK } },
    }),
  );
  system.refresh(stepper.start);
  const h = 1.6 / steps;
  for (let i = 0; i < steps; i++) {
    stepper.begin();
    stepper.attempt(h, 1);
    stepper.finish();
    if (atHalf && i === steps - 1) return Math.abs(stepper.at(0, 0.5) - exactPressure(1.6 - h / 2));
    stepper.start.set(stepper.end);
  }
  return Math.abs(stepper.start[0]! - exactPressure(1.6));
}

describe("RODAS4", () => {
  it("has measured order 4 on a blow-down with a closed form", () => {
    const order = Math.log2(errorAtFixedStep(16) / errorAtFixedStep(32));
    expect(order).toBeGreaterThan(3.7);
    expect(order).toBeLessThan(4.6);
  });

  it("has an interpolant of order 3 or better inside the step", () => {
    const order = Math.log2(errorAtFixedStep(16, true) / errorAtFixedStep(32, true));
    expect(order).toBeGreaterThan(2.8);
  });

  it("keeps the closed form within the tolerance asked for, through Simulation", () => {
    for (const tolerance of [1e-4, 1e-5, 1e-6]) {
      const run = new Simulation(blowDown(), {
        tolerance,
        start: { nodes: { tank: { gaugePressurePa: START_PA - AMBIENT.pressurePa } } },
      });
      let worst = 0;
      for (let tick = 10; tick <= 160; tick += 10) {
        run.advanceTo(tick);
        const p = run.sample()[0]! + AMBIENT.pressurePa;
        worst = Math.max(worst, Math.abs(p / exactPressure(tick / 100) - 1));
      }
      expect(worst).toBeLessThan(10 * tolerance);
      expect(run.balance().relativeError).toBeLessThan(1e-9);
    }
  });
});
