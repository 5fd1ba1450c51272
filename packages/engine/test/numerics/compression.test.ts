import { describe, expect, it } from "vitest";
import {
  expansionRatio,
  expansionRatioSlope,
  fillingFactor,
  fillingFactorSlope,
  POLYTROPIC_INDEX,
  temperatureRatio,
  temperatureRatioSlope,
} from "../../src/numerics/compression.ts";

function worst(f: (x: number) => number, power: number, from: number, to: number): number {
  let most = 0;
  for (let k = 0; k <= 20000; k++) {
    const x = from + ((to - from) * k) / 20000;
    most = Math.max(most, Math.abs(f(x) / x ** power - 1));
  }
  return most;
}

const n = POLYTROPIC_INDEX;
const powers = [
  { name: "x^(1/n)", f: expansionRatio, slope: expansionRatioSlope, power: 1 / n },
  { name: "x^((n-1)/n)", f: temperatureRatio, slope: temperatureRatioSlope, power: (n - 1) / n },
];

describe.each(powers)("$name of the compressor", ({ f, slope, power }) => {
  it("is within 1.12e-4 from 0.9 to 13, 1.4e-4 to 14 and 2.0e-3 to 20", () => {
    expect(worst(f, power, 0.9, 13)).toBeLessThan(1.12e-4);
    expect(worst(f, power, 0.9, 14)).toBeLessThan(1.4e-4);
    expect(worst(f, power, 0.9, 20)).toBeLessThan(2.0e-3);
  });

  it("is exact where nothing is compressed", () => expect(f(1)).toBe(1));

  it("has the slope of its differences", () => {
    for (let x = 0.9; x < 20; x += 0.37) expect(slope(x)).toBeCloseTo((f(x + 1e-5) - f(x - 1e-5)) / 2e-5, 7);
  });
});

describe("the filling factor", () => {
  it("is 0.90, 0.85 and 0.75 at 1000, 1800 and 3000 rev/min, to a quarter of a percent", () => {
    // 0.85 at 1800: maker's sheet of a 720 cm3 twin, 30.3 ft3/min at 120 psi. The fall with speed is from memory.
    for (const [rpm, value] of [
      [1000, 0.9],
      [1800, 0.85],
      [3000, 0.75],
    ] as const) {
      expect(Math.abs(fillingFactor(rpm) - value)).toBeLessThan(0.0025);
    }
  });

  it("stays positive up to 8,000 rev/min, far above any compressor's speed", () => {
    for (let rpm = 0; rpm <= 8000; rpm += 100) expect(fillingFactor(rpm)).toBeGreaterThan(0);
  });

  it("has the slope of its differences", () => {
    for (const rpm of [0, 700, 2400]) {
      expect(fillingFactorSlope(rpm)).toBeCloseTo((fillingFactor(rpm + 1) - fillingFactor(rpm - 1)) / 2, 12);
    }
  });
});
