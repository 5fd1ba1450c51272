import { exponentOf, scaleByPowerOfTwo } from "./binary.ts";
import { requireRange } from "./domain.ts";
import { LN2_HI, LN2_LO } from "./exp.ts";
import { lowOfProduct, lowOfQuotient, lowOfSum } from "./twofold.ts";

const SQRT_2 = 1.4142135623730951;
/** What 1/3 lacks as a number. */
const THIRD_LO = 1.850371707708594e-17;
/** The series ends with s^28 / 29, below 2^-66 of the first term for |s| <= 0.1716. */
const LAST_DIVISOR = 29;

/** A logarithm with twice the usual digits. */
export interface Twofold {
  hi: number;
  lo: number;
}

/** s^2/5 + s^4/7 + ...: what follows the third in atanh(s)/s = 1 + s^2 (1/3 + tail). */
function tail(s2: number): number {
  let sum = 0;
  for (let divisor = LAST_DIVISOR; divisor >= 5; divisor -= 2) sum = sum * s2 + 1 / divisor;
  return sum * s2;
}

/**
 * The natural logarithm to about 100 bits: x = 2^k m, s = (m - 1) / (m + 1), log m = 2 atanh s. The terms s and s^3/3
 * are carried twofold, the rest needs no more than a plain number.
 *
 * @param x finite, above zero
 */
export function logTwofold(x: number): Twofold {
  let k = exponentOf(x);
  let m = scaleByPowerOfTwo(x, -k);
  if (m > SQRT_2) {
    m /= 2;
    k += 1;
  }
  const f = m - 1;
  const d = 1 + m;
  const s = f / d;
  const sLo = lowOfQuotient(f, 0, d, lowOfSum(1, m, d), s);
  const s2 = s * s;
  const s2Lo = lowOfProduct(s, s, s2) + 2 * s * sLo;
  const rest = tail(s2);
  const a = 1 / 3 + rest;
  const aLo = lowOfSum(1 / 3, rest, a) + THIRD_LO;
  const b = s2 * a;
  const bLo = lowOfProduct(s2, a, b) + s2 * aLo + s2Lo * a;
  const c = s * b;
  const cLo = lowOfProduct(s, b, c) + s * bLo + sLo * b;
  return sumOfParts(k * LN2_HI, k * LN2_LO, 2 * s, 2 * (sLo + cLo), 2 * c);
}

/** Adds the three parts of a logarithm from the largest down. */
function sumOfParts(whole: number, wholeLo: number, first: number, small: number, third: number): Twofold {
  const a = whole + first;
  const aLo = lowOfSum(whole, first, a);
  const b = a + third;
  const bLo = lowOfSum(a, third, b) + aLo;
  const c = b + wholeLo;
  const low = lowOfSum(b, wholeLo, c) + bLo + small;
  const hi = c + low;
  return { hi, lo: c - hi + low };
}

/**
 * The natural logarithm, the same bits in every engine. Error below 0.51 units in the last place.
 *
 * @param x above zero
 * @throws RangeError for zero, negative numbers, infinity and NaN
 */
export function log(x: number): number {
  requireRange("log", x, Number.MIN_VALUE, Number.MAX_VALUE);
  return logTwofold(x).hi;
}
