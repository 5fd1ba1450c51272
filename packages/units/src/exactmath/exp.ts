import { scaleByPowerOfTwo } from "./binary.ts";
import { requireRange } from "./domain.ts";

/** Above this e^x is more than a number can hold. */
const LARGEST = 709.782712893384;
/** ln 2 in two parts; the first has 33 bits, so that its product with a small whole number is exact. */
export const LN2_HI = 0.6931471804855391;
export const LN2_LO = 7.440617110012397e-11;
const ONE_OVER_LN2 = 1.4426950408889634;

/** 1/2!, 1/3! ... 1/14!, for Horner's scheme from the last. The next term is below 2^-60 of the sum for |r| < 0.35. */
const FACTORS: readonly number[] = [
  1 / 2,
  1 / 6,
  1 / 24,
  1 / 120,
  1 / 720,
  1 / 5040,
  1 / 40320,
  1 / 362880,
  1 / 3628800,
  1 / 39916800,
  1 / 479001600,
  1 / 6227020800,
  1 / 87178291200,
];

/** e^(hi + lo) for hi within the range of a number; used by exp and pow. */
export function expOfTwofold(hi: number, lo: number): number {
  const k = Math.floor(hi * ONE_OVER_LN2 + 0.5);
  const rHi = hi - k * LN2_HI;
  const rLo = lo - k * LN2_LO;
  const r = rHi + rLo;
  const rest = rHi - r + rLo;
  let series = 0;
  for (let i = FACTORS.length - 1; i >= 0; i -= 1) series = series * r + (FACTORS[i] as number);
  const above = r + (r * r * series + rest);
  return scaleByPowerOfTwo(1 + above, k);
}

/**
 * e to the power x, the same bits in every engine. Error below 1 unit in the last place for results above 1e-307;
 * smaller ones fade to zero as numbers do.
 *
 * @param x up to 709.78; any negative number
 * @returns above 0, or 0 where the result is too small for a number
 * @throws RangeError above 709.78 or for NaN
 */
export function exp(x: number): number {
  requireRange("exp", x, -Number.MAX_VALUE, LARGEST);
  return x < -746 ? 0 : expOfTwofold(x, 0);
}
