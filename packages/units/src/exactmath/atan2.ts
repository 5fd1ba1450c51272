import { requireRange } from "./domain.ts";
import { lowOfProduct, lowOfQuotient, lowOfSum } from "./twofold.ts";

const PI_HI = 3.141592653589793;
const PI_LO = 1.2246467991473532e-16;

/** Angles whose tangent is 0, 1/8 ... 1, each in two parts. */
const EIGHTHS: readonly (readonly [number, number])[] = [
  [0.0, 0.0],
  [0.12435499454676144, -3.1253241424539383e-18],
  [0.24497866312686414, 1.0698755618734451e-17],
  [0.35877067027057225, -2.4623815582638635e-17],
  [0.4636476090008061, 2.2698777452961687e-17],
  [0.5585993153435624, -5.4556305485916264e-18],
  [0.6435011087932844, 1.5834785051444286e-17],
  [0.7188299996216245, -2.1478388444456983e-17],
  [0.7853981633974483, 3.061616997868383e-17],
];

/** Sum of two twofold numbers, of which `a` is the larger or zero; the caller adds `lo` last. */
interface Angle {
  readonly hi: number;
  readonly lo: number;
}

function angle(hi: number, lo: number): Angle {
  const sum = hi + lo;
  return { hi: sum, lo: hi - sum + lo };
}

/** u - u^3/3 + u^5/5 ... for |u| up to 1/16; the last term, u^17/17, is below 2^-65 of the first. */
function seriesLow(u: number): number {
  const z = u * u;
  let sum = 0;
  for (let divisor = 17; divisor >= 3; divisor -= 2) sum = (1 / divisor - sum) * z;
  return -u * sum;
}

/** Angle whose tangent is t + tLo, from 0 to 1. */
function angleOfRatio(t: number, tLo: number): Angle {
  const index = Math.floor(t * 8 + 0.5);
  const centre = index / 8;
  const above = t - centre;
  const tc = t * centre;
  const below = 1 + tc;
  const belowLo = lowOfSum(1, tc, below) + lowOfProduct(t, centre, tc) + tLo * centre;
  const u = above / below;
  const uLo = lowOfQuotient(above, tLo, below, belowLo, u);
  const [hi, lo] = EIGHTHS[index] as readonly [number, number];
  const sum = hi + u;
  return angle(sum, lowOfSum(hi, u, sum) + lo + uLo + seriesLow(u));
}

/** `whole - a`, twofold. */
function lessThan(wholeHi: number, wholeLo: number, a: Angle): Angle {
  const difference = wholeHi - a.hi;
  return angle(difference, lowOfSum(wholeHi, -a.hi, difference) + wholeLo - a.lo);
}

/**
 * Direction of the point (x, y) from the origin, the same bits in every engine. Error below 1 unit in the last place
 * for results above 1e-290. The sign of a zero is not looked at.
 *
 * @param y from -1e150 to 1e150
 * @param x the same
 * @returns radians, above -pi and up to pi
 * @throws RangeError where both are zero, out of range or NaN
 */
export function atan2(y: number, x: number): number {
  requireRange("atan2: y", y, -1e150, 1e150);
  requireRange("atan2: x", x, -1e150, 1e150);
  const up = Math.abs(y);
  const along = Math.abs(x);
  const longer = Math.max(up, along);
  if (longer === 0) throw new RangeError("atan2: the origin lies in no direction");
  const shorter = Math.min(up, along);
  const t = shorter / longer;
  let result = angleOfRatio(t, t < 1e-290 ? 0 : lowOfQuotient(shorter, 0, longer, 0, t));
  if (up > along) result = lessThan(PI_HI / 2, PI_LO / 2, result);
  if (x < 0) result = lessThan(PI_HI, PI_LO, result);
  return y < 0 ? -result.hi : result.hi;
}
