import { describe, expect, it } from "vitest";
import { absoluteFromGauge, gaugeFromAbsolute, standardPressurePa, standardTemperatureK, toSi } from "./index.ts";

describe("the standard atmosphere", () => {
  // Source: U.S. Standard Atmosphere 1976, table of pressure against geopotential height, from memory.
  it.each([
    [0, 101325, 288.15],
    [1000, 89874.6, 281.65],
    [2000, 79495.2, 275.15],
    [3000, 70108.5, 268.65],
    [5000, 54019.9, 255.65],
    [11000, 22632.1, 216.65],
  ])("at %d m", (heightM, pressurePa, temperatureK) => {
    expect(Math.abs(standardPressurePa(heightM) / pressurePa - 1)).toBeLessThan(1e-5);
    expect(standardTemperatureK(heightM)).toBeCloseTo(temperatureK, 9);
  });

  it.each([-2001, 11001, Number.NaN, Number.POSITIVE_INFINITY])("is not defined here at %d m", (heightM) => {
    expect(() => standardPressurePa(heightM)).toThrow(RangeError);
  });
});

describe("gauge and absolute", () => {
  it("is the example of the doc comment", () => {
    const gaugePa = toSi("pressure", 100, "psi");
    expect(absoluteFromGauge(gaugePa, standardPressurePa(0))).toBeCloseTo(790_801, 0);
    expect(absoluteFromGauge(gaugePa, standardPressurePa(2000))).toBeCloseTo(768_971, 0);
    expect(gaugeFromAbsolute(790_801, 101_325)).toBe(689_476);
  });
});
