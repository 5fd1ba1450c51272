/**
 * Elementary functions in whole-number arithmetic with 256 bits after the point: slow, simple and independent of the
 * product's own. A value v stands for v / 2^256.
 */

const BITS = 256n;
const ONE = 1n << BITS;

function times(a: bigint, b: bigint): bigint {
  return (a * b) >> BITS;
}

function over(a: bigint, b: bigint): bigint {
  return (a << BITS) / b;
}

/** A double as a whole number times a power of two. */
function parts(x: number): { mantissa: bigint; exponent: number } {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, x);
  const bits = view.getBigUint64(0);
  const field = Number((bits >> 52n) & 0x7ffn);
  const fraction = bits & 0xfffffffffffffn;
  const mantissa = field === 0 ? fraction : fraction | (1n << 52n);
  return { mantissa: bits >> 63n ? -mantissa : mantissa, exponent: (field === 0 ? 1 : field) - 1075 };
}

/** A double, exact while it has no bits below 2^-256. */
export function bigOf(x: number): bigint {
  const { mantissa, exponent } = parts(x);
  const shift = BigInt(exponent) + BITS;
  return shift >= 0n ? mantissa << shift : mantissa >> -shift;
}

/** Sum of a series whose next term comes from the last by `next(term, n)`, until the terms are gone. */
function sum(first: bigint, next: (term: bigint, n: bigint) => bigint): bigint {
  let total = 0n;
  let term = first;
  for (let n = 1n; term !== 0n && n < 2000n; n += 1n) {
    total += term;
    term = next(term, n);
  }
  return total;
}

/** Angle or logarithm by the odd series x + sign x^3/3 + ..., for small x. */
function oddSeries(x: bigint, sign: bigint): bigint {
  const square = sign * times(x, x);
  let power = x;
  return sum(x, (_term, n) => {
    power = times(power, square);
    return power / (2n * n + 1n);
  });
}

/** Machin's formula: pi = 16 atan(1/5) - 4 atan(1/239). */
export const PI = 16n * oddSeries(ONE / 5n, -1n) - 4n * oddSeries(ONE / 239n, -1n);
/** ln 2 = 2 atanh(1/3). */
export const LN2 = 2n * oddSeries(ONE / 3n, 1n);

/** A value times a power of two; `exponent` may lie far outside the 256 bits, which is why it is kept apart. */
export interface Scaled {
  readonly value: bigint;
  readonly exponent: number;
}

/** e^x. */
export function bigExp(x: bigint): Scaled {
  const k = (x + (LN2 >> 1n)) / LN2 - (x + (LN2 >> 1n) < 0n ? 1n : 0n);
  const r = (x - k * LN2) >> 8n;
  let value = sum(ONE, (term, n) => times(term, r) / n);
  for (let i = 0; i < 8; i += 1) value = times(value, value);
  return { value, exponent: Number(k) };
}

/** Natural logarithm of a double above zero. */
export function bigLog(x: number): bigint {
  const { mantissa, exponent } = parts(x);
  const length = mantissa.toString(2).length;
  const m = (mantissa << BITS) >> BigInt(length - 1);
  const k = BigInt(exponent + length - 1);
  return k * LN2 + 2n * oddSeries(over(m - ONE, m + ONE), 1n);
}

/** Sine of x by halving the angle until the series is short, and cosine through a quarter turn. */
export function bigSin(x: bigint): bigint {
  const turns = x / (2n * PI);
  const r = x - turns * 2n * PI;
  const square = times(r, r);
  return sum(r, (term, n) => -times(term, square) / (2n * n * (2n * n + 1n)));
}

/** Cosine. */
export function bigCos(x: bigint): bigint {
  return bigSin(x + PI / 2n);
}

/** Direction of (x, y), for x and y that are not both zero. */
export function bigAtan2(y: bigint, x: bigint): bigint {
  const up = y < 0n ? -y : y;
  const along = x < 0n ? -x : x;
  const first = up <= along ? bigAtan(over(up, along)) : PI / 2n - bigAtan(over(along, up));
  const half = x < 0n ? PI - first : first;
  return y < 0n ? -half : half;
}

/** Angle of a ratio from 0 to 1: two half-angle steps, then the series. */
function bigAtan(ratio: bigint): bigint {
  let t = ratio;
  for (let i = 0; i < 2; i += 1) t = over(t, ONE + root(ONE + times(t, t)));
  return 4n * oddSeries(t, -1n);
}

/** Square root by Newton's steps. */
function root(x: bigint): bigint {
  const target = x << BITS;
  let guess = x > ONE ? x : ONE;
  for (;;) {
    const next = (guess + target / guess) >> 1n;
    if (next >= guess) return guess;
    guess = next;
  }
}

/**
 * Error of `got` against a value, in units in the last place of `got`.
 *
 * @param got double to judge
 * @param value what it should be
 */
export function ulpsBetween(got: number, { value, exponent }: Scaled): number {
  const { mantissa, exponent: gotExponent } = parts(got);
  // Everything is brought to 2^-64 of the last place of `got`.
  const fine = mantissa << 64n;
  const shift = BigInt(exponent - gotExponent) + 64n - BITS;
  const exact = shift >= 0n ? value << shift : value >> -shift;
  const difference = fine > exact ? fine - exact : exact - fine;
  return Number(difference) / 2 ** 64;
}
