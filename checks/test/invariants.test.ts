import type { EngineModel } from "@brakeyard/engine";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { noExtremes, type Story, story, tell } from "./invariants.ts";

const title =
  "mass is kept, no pressure falls to nothing, no check valve passes backwards, nothing leaves its bounds (seed %i)";

describe("whatever vehicle, whatever is done to it", () => {
  it.each([1, 2])(title, { timeout: 180_000 }, (seed) => {
    const extremes = noExtremes();
    fc.assert(
      fc.property(story, (told) => {
        expect(tell(told, extremes)).toEqual([]);
      }),
      { numRuns: 6, seed },
    );
    expect(extremes.massError).toBeLessThan(1e-12);
    expect(extremes.lowestPa).toBeGreaterThan(0);
  });
});

describe("the invariants see", () => {
  /** A bus with two tanks behind check valves, whose supply tank is let down and whose pedal is worked. */
  const [any] = fc.sample(story, { numRuns: 1, seed: 7 }) as [Story];
  const vehicle = { ...any.vehicle, kind: "bus", electric: false, multiCircuit: false, supplyTank: true } as const;
  const moves = Array.from({ length: 40 }, (_, control) => ({ waitTicks: 100, control, value: 1 }));
  const told: Story = { ...any, vehicle, psi: 100, parked: false, turning: false, isothermal: false, moves };
  const without = (gates: RegExp) => (model: EngineModel) => ({
    ...model,
    orifices: model.orifices.map((o) => (gates.test(o.name) ? { ...o, gates: [] } : o)),
  });

  it("nothing in a sound vehicle", () => {
    expect(tell(told)).toEqual([]);
  });

  it("a check valve that passes air both ways", () => {
    expect(tell(told, noExtremes(), without(/\.check$/))[0]?.what).toMatch(/^flow\..*check at tick/);
  });

  it("air far hotter than it can be", () => {
    const hot = (model: EngineModel) => ({
      ...model,
      nodes: model.nodes.map((node) => ({ ...node, wallTemperatureK: 690 })),
      atmosphere: { ...model.atmosphere, temperatureK: 690 },
    });
    expect(tell(told, noExtremes(), hot)[0]?.what).toMatch(/^temperature\./);
  });
});
