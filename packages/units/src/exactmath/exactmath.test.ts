import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { exponentOf, scaleByPowerOfTwo } from "./binary.ts";
import { atan2, cbrt, cos, exp, log, pow, sin } from "./index.ts";
import reference from "./reference.json" with { type: "json" };
import { errorInUlps } from "./ulps.ts";

type Row = readonly number[];

/** Largest error over the stored values, in units in the last place. */
function worstError(rows: readonly Row[], f: (...args: number[]) => number): number {
  let worst = 0;
  for (const row of rows) {
    const args = row.slice(0, -2);
    worst = Math.max(worst, errorInUlps(f(...args), row.at(-2) as number, row.at(-1) as number));
  }
  return worst;
}

// Source of the expected values: mpmath at 60 digits, bench/reference/exactmath.py.
describe("against 60-digit values", () => {
  const functions: readonly [keyof typeof reference, (...args: number[]) => number, number][] = [
    ["exp", exp as (...args: number[]) => number, 1],
    ["log", log as (...args: number[]) => number, 0.51],
    ["pow", pow as (...args: number[]) => number, 1],
    ["sin", sin as (...args: number[]) => number, 1],
    ["cos", cos as (...args: number[]) => number, 1],
    ["atan2", atan2 as (...args: number[]) => number, 1],
    ["cbrt", cbrt as (...args: number[]) => number, 0.6],
  ];

  it.each(functions)("%s keeps the error that it states", (name, f, stated) => {
    expect(reference[name].length).toBeGreaterThan(60);
    expect(worstError(reference[name], f)).toBeLessThan(stated);
  });

  it("a function wrong in its last bits is seen", () => {
    const off = (x: number): number => exp(x) * (1 + 4e-16);
    expect(worstError(reference.exp, off as (...args: number[]) => number)).toBeGreaterThan(1);
  });
});

describe("laws", () => {
  const ordinary = fc.double({ min: 1e-100, max: 1e100, noNaN: true });

  it("log undoes exp", () => {
    fc.assert(
      fc.property(fc.double({ min: -600, max: 600, noNaN: true }), (x) => {
        expect(Math.abs(log(exp(x)) - x)).toBeLessThanOrEqual(4e-16 * Math.max(1, Math.abs(x)));
      }),
    );
  });

  it("the cube of a cube root is the number", () => {
    fc.assert(
      fc.property(ordinary, (x) => {
        const root = cbrt(x);
        expect(Math.abs((root * root * root) / x - 1)).toBeLessThan(1e-15);
        expect(cbrt(-x)).toBe(-root);
      }),
    );
  });

  it("a power of one half is the square root", () => {
    fc.assert(fc.property(ordinary, (x) => errorInUlps(pow(x, 0.5), Math.sqrt(x), 0) <= 1));
  });

  it("sine and cosine lie on the unit circle and give their angle back", () => {
    fc.assert(
      fc.property(fc.double({ min: -3.1, max: 3.1, noNaN: true }), (x) => {
        expect(Math.abs(sin(x) * sin(x) + cos(x) * cos(x) - 1)).toBeLessThan(1e-15);
        expect(Math.abs(atan2(sin(x), cos(x)) - x)).toBeLessThan(1e-15);
      }),
    );
  });

  it("scaling by a power of two and reading the exponent agree", () => {
    fc.assert(
      fc.property(fc.integer({ min: -1074, max: 1023 }), (n) => {
        const x = scaleByPowerOfTwo(1, n);
        expect(x).toBe(2 ** n);
        expect(exponentOf(x)).toBe(n);
      }),
    );
  });
});

describe("exact values", () => {
  it("are exact", () => {
    expect([exp(0), log(1), pow(2, 10), pow(5, 0), pow(0, 3), pow(7, 1)]).toEqual([1, 0, 1024, 1, 0, 7]);
    expect([sin(0), cos(0), atan2(0, 1), cbrt(27), cbrt(-8), cbrt(0)]).toEqual([0, 1, 0, 3, -2, 0]);
    expect([atan2(0, -1), atan2(1, 0), atan2(-1, 0)]).toEqual([Math.PI, Math.PI / 2, -Math.PI / 2]);
  });

  it("fade to zero below the smallest number", () => {
    expect([exp(-800), exp(-745), pow(0.1, 400)]).toEqual([0, 5e-324, 0]);
  });
});

describe("what is refused", () => {
  it.each([
    ["exp of NaN", () => exp(Number.NaN)],
    ["exp too large", () => exp(710)],
    ["log of zero", () => log(0)],
    ["log of a negative number", () => log(-1)],
    ["log of infinity", () => log(Number.POSITIVE_INFINITY)],
    ["pow of a negative number", () => pow(-2, 2)],
    ["zero to a negative power", () => pow(0, -1)],
    ["pow too large", () => pow(10, 400)],
    ["pow just too large", () => pow(2, 1024)],
    ["pow with NaN", () => pow(2, Number.NaN)],
    ["sin too far", () => sin(2e6)],
    ["cos of NaN", () => cos(Number.NaN)],
    ["atan2 of the origin", () => atan2(0, 0)],
    ["atan2 of NaN", () => atan2(Number.NaN, 1)],
    ["cbrt of infinity", () => cbrt(Number.POSITIVE_INFINITY)],
  ])("%s", (_name, f) => {
    expect(f).toThrow(RangeError);
  });
});
