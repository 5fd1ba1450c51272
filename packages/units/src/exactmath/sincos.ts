import { requireRange } from "./domain.ts";

/** Beyond this the quarter turns taken off no longer leave every digit. */
const LARGEST = 1048576;
/** A quarter turn in three parts; the first two have 33 bits each, so that their products with the count are exact. */
const QUARTER_1 = 1.5707963267341256;
const QUARTER_2 = 6.077100506303966e-11;
const QUARTER_3 = 2.0222662487959506e-21;
const TWO_OVER_PI = 0.6366197723675814;

/** -1/3!, 1/5! ... for the sine, over an angle of at most an eighth of a turn. */
const SINE: readonly number[] = [
  -1 / 6,
  1 / 120,
  -1 / 5040,
  1 / 362880,
  -1 / 39916800,
  1 / 6227020800,
  -1 / 1307674368000,
  1 / 355687428096000,
];

/** 1/4!, -1/6! ... for the cosine; 1 - r^2/2 is handled apart. */
const COSINE: readonly number[] = [
  1 / 24,
  -1 / 720,
  1 / 40320,
  -1 / 3628800,
  1 / 479001600,
  -1 / 87178291200,
  1 / 20922789888000,
  -1 / 6402373705728000,
];

function horner(factors: readonly number[], z: number): number {
  let sum = 0;
  for (let i = factors.length - 1; i >= 0; i -= 1) sum = sum * z + (factors[i] as number);
  return sum;
}

/** Sine of r + rLo, |r| at most pi/4. */
function sineNear(r: number, rLo: number): number {
  const z = r * r;
  return r + (r * z * horner(SINE, z) + rLo * (1 - 0.5 * z));
}

/** Cosine of r + rLo, |r| at most pi/4. What 1 - z/2 loses in rounding is put back. */
function cosineNear(r: number, rLo: number): number {
  const z = r * r;
  const half = 0.5 * z;
  const main = 1 - half;
  return main + (1 - main - half + (z * z * horner(COSINE, z) - r * rLo));
}

/** Sine of x plus a number of quarter turns. */
function sineOfTurned(x: number, quarters: number): number {
  const count = Math.floor(x * TWO_OVER_PI + 0.5);
  const first = x - count * QUARTER_1;
  const second = count * QUARTER_2;
  const r1 = first - second;
  const r1Lo = first - r1 - second - count * QUARTER_3;
  const r = r1 + r1Lo;
  const rLo = r1 - r + r1Lo;
  const turned = count + quarters;
  const quadrant = turned - 4 * Math.floor(turned / 4);
  const value = quadrant === 1 || quadrant === 3 ? cosineNear(r, rLo) : sineNear(r, rLo);
  return quadrant >= 2 ? -value : value;
}

/**
 * Sine, the same bits in every engine. Error below 1 unit in the last place; next to a whole number of half turns
 * below 1e-24 instead.
 *
 * @param x radians, from -2^20 to 2^20
 * @throws RangeError outside that range or for NaN
 */
export function sin(x: number): number {
  requireRange("sin", x, -LARGEST, LARGEST);
  return sineOfTurned(x, 0);
}

/**
 * Cosine, the same bits in every engine. Error as for the sine.
 *
 * @param x radians, from -2^20 to 2^20
 * @throws RangeError outside that range or for NaN
 */
export function cos(x: number): number {
  requireRange("cos", x, -LARGEST, LARGEST);
  return sineOfTurned(x, 1);
}
