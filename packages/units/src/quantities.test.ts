import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fromSi, hasUnit, quantityKinds, toSi, unitNames } from "./index.ts";

const everyUnit = quantityKinds().flatMap((kind) => unitNames(kind).map((unit) => [kind, unit] as const));

describe("factors", () => {
  // Source: NIST Special Publication 811 (2008), appendix B.8, from memory; printed there to seven digits.
  it.each([
    ["pressure", "psi", 6894.757],
    ["length", "in", 0.0254],
    ["distance", "mi", 1609.344],
    ["volume", "in3", 1.638706e-5],
    ["volume", "ft3", 0.02831685],
    ["area", "in2", 6.4516e-4],
    ["mass", "lb", 0.4535924],
    ["force", "lbf", 4.448222],
    ["torque", "lbf ft", 1.355818],
    ["torque", "lbf in", 0.1129848],
    ["stiffness", "lbf/in", 175.1268],
    ["power", "hp", 745.6999],
    ["speed", "mph", 0.44704],
    ["speed", "km/h", 0.2777778],
    ["airFlow", "ft3/min", 4.719474e-4],
    ["angle", "deg", 0.01745329],
  ] as const)("of %s in %s", (kind, unit, factor) => {
    expect(Math.abs(toSi(kind, 1, unit) / factor - 1)).toBeLessThan(5e-7);
  });

  it("of the pound per square inch to every digit", () => {
    // 0.45359237 x 9.80665 / 0.0254^2 = 6894.757293168361336...
    expect(toSi("pressure", 1, "psi")).toBeCloseTo(6894.757293168361, 11);
  });

  it("of temperatures meet at the fixed points", () => {
    for (const [unit, ice, steam] of [
      ["F", 32, 212],
      ["C", 0, 100],
      ["K", 273.15, 373.15],
    ] as const) {
      expect(toSi("temperature", ice, unit)).toBeCloseTo(273.15, 10);
      expect(toSi("temperature", steam, unit)).toBeCloseTo(373.15, 10);
    }
    expect(toSi("warming", 18, "F")).toBeCloseTo(10, 12);
  });
});

describe("there and back", () => {
  it.each(everyUnit)("%s in %s", (kind, unit) => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (value) => {
        const back = fromSi(kind, toSi(kind, value, unit), unit);
        expect(Math.abs(back - value)).toBeLessThanOrEqual(4.5e-16 * (Math.abs(value) + 1000));
      }),
      { numRuns: 50 },
    );
  });
});

describe("a unit of another kind", () => {
  it("is refused with the names that would do", () => {
    expect(() => toSi("pressure", 1, "in")).toThrow(/"in" is no unit of pressure; it may be psi, kPa, bar, Pa/);
    expect(() => fromSi("length", 1, "toString")).toThrow(RangeError);
    expect(hasUnit("pressure", "psi")).toBe(true);
    expect(hasUnit("pressure", "constructor")).toBe(false);
  });
});
