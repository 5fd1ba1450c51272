import { describe, expect, it } from "vitest";
import { bigAtan2, bigCos, bigExp, bigLog, bigOf, bigSin, LN2, PI, ulpsBetween } from "./bigReal.ts";
import { exactmath } from "./exactmath.ts";

/** A value with 256 bits after the point, in decimals. */
function decimals(value: bigint): string {
  return ((value * 10n ** 60n) >> 256n).toString();
}

describe("the slow arithmetic", () => {
  // Source of the digits: the usual tables of these constants, checked with mpmath at 60 digits.
  it("knows pi, ln 2, e, sin 1 and cos 1 to 40 digits", () => {
    expect(decimals(PI)).toMatch(/^3141592653589793238462643383279502884197/);
    expect(decimals(LN2)).toMatch(/^6931471805599453094172321214581765680755/);
    expect(decimals(bigExp(bigOf(1)).value * 2n ** BigInt(bigExp(bigOf(1)).exponent))).toMatch(
      /^2718281828459045235360287471352662497757/,
    );
    expect(decimals(bigSin(bigOf(1)))).toMatch(/^841470984807896506652502321630298999622/);
    expect(decimals(bigCos(bigOf(1)))).toMatch(/^540302305868139717400936607442976603732/);
    expect(decimals(4n * bigAtan2(bigOf(1), bigOf(1)))).toMatch(/^31415926535897932384626433832795028841/);
    expect(decimals(bigLog(0.5))).toMatch(/^-6931471805599453094172321214581765680755/);
  });

  it("measures an error in units in the last place", () => {
    expect(ulpsBetween(1 + 2 ** -52, { value: bigOf(1), exponent: 0 })).toBe(1);
    expect(ulpsBetween(3, { value: bigOf(3), exponent: 0 })).toBe(0);
  });
});

describe("the proof of exactmath, in small", () => {
  it.each(exactmath.parts)("%s", async (part) => {
    for (const figure of await exactmath.run(part, { seed: "small", scale: 0.001, progress: () => undefined })) {
      expect(figure.value, figure.name).toBeLessThanOrEqual(figure.limit);
      expect(figure.value, figure.name).toBeGreaterThan(0);
    }
  });
});
