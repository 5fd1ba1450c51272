import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ramp,
  rampCode,
  rampCurvature,
  rampIntegral,
  rampSlope,
  rampSlopeCode,
  smoothStep,
  smoothStepSlope,
} from "../../src/numerics/smooth.ts";

const SEED = 20261127;
const half = fc.double({ min: 1e-4, max: 1e4, noNaN: true });
/** Places within three corners' width of the corner, as a share of `half`. */
const place = fc.double({ min: -3, max: 3, noNaN: true });

function central(f: (x: number) => number, x: number, step: number): number {
  return (f(x + step) - f(x - step)) / (2 * step);
}

describe("the smooth step", () => {
  it("is 0 to 0, 1 from 1, half in the middle, and never falls", () => {
    expect([-1, 0, 0.5, 1, 2].map(smoothStep)).toEqual([0, 0, 0.5, 1, 1]);
    for (let t = -0.1; t < 1.1; t += 0.001) expect(smoothStep(t + 0.001)).toBeGreaterThanOrEqual(smoothStep(t));
  });

  it("meets its flat ends in value and slope", () => {
    const near = 1e-9;
    for (const end of [0, 1]) {
      expect(Math.abs(smoothStep(end + near) - smoothStep(end - near))).toBeLessThan(1e-15);
      expect(Math.abs(smoothStepSlope(end + near) - smoothStepSlope(end - near))).toBeLessThan(1e-8);
    }
  });

  it("has the slope of its differences", () => {
    for (let t = -0.2; t < 1.2; t += 0.013) expect(smoothStepSlope(t)).toBeCloseTo(central(smoothStep, t, 1e-5), 4);
  });
});

describe("the rounded ramp", () => {
  it("lies half / 4 above the kink, exactly there, and nowhere further", () => {
    expect(ramp(0, 8)).toBe(2);
    fc.assert(
      fc.property(half, place, (h, at) => {
        const x = at * h;
        const above = ramp(x, h) - Math.max(0, x);
        expect(above).toBeGreaterThanOrEqual(0);
        expect(above).toBeLessThanOrEqual((h / 4) * (1 + 1e-12));
        if (Math.abs(x) >= h) expect(above).toBe(0);
      }),
      { seed: SEED },
    );
  });

  it("meets the straight parts in value and slope at both ends of its parabola", () => {
    for (const h of [1e-3, 1, 1500]) {
      for (const end of [-h, h]) {
        const near = 1e-9 * h;
        expect(Math.abs(ramp(end + near, h) - ramp(end - near, h))).toBeLessThanOrEqual(2.1 * near);
        expect(Math.abs(rampSlope(end + near, h) - rampSlope(end - near, h))).toBeLessThan(1e-8);
      }
    }
  });

  it("has the slope, the curvature and the area of its differences", () => {
    fc.assert(
      fc.property(half, place, (h, at) => {
        const x = at * h;
        const step = 1e-4 * h;
        const close = (value: number, wanted: number, size: number) =>
          expect(Math.abs(value - wanted)).toBeLessThan(1e-4 * size);
        close(
          rampSlope(x, h),
          central((y) => ramp(y, h), x, step),
          1,
        );
        close(
          ramp(x, h),
          central((y) => rampIntegral(y, h), x, step),
          4 * h,
        );
        // The curvature jumps at both ends of the parabola; it is compared away from them.
        if (Math.abs(Math.abs(at) - 1) < 1e-3) return;
        close(
          rampCurvature(x, h),
          central((y) => rampSlope(y, h), x, step),
          1 / h,
        );
      }),
      { seed: SEED },
    );
  });

  it("is written out as code that gives the same bits", () => {
    const run = (code: string, x: number): number => new Function("x", `return ${code}`)(x);
    for (const h of [0.0002, 1500, 6894.757293168361]) {
      for (const at of [-2, -1, -0.3, 0, 0.7, 1, 5]) {
        const x = at * h;
        expect(run(rampCode("x", `${h}`), x)).toBe(ramp(x, h));
        expect(run(rampSlopeCode("x", `${h}`), x)).toBe(rampSlope(x, h));
      }
    }
  });
});
