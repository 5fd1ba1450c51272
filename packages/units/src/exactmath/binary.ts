/** Powers of two by which numbers are scaled, largest first: 2^512, 2^256 ... 2^1. */
const STEPS: readonly number[] = [512, 256, 128, 64, 32, 16, 8, 4, 2, 1];

/** 2^n for a whole n from 0 to 512, by multiplication, which is exact. */
function smallPowerOfTwo(n: number): number {
  let result = 1;
  for (let i = 0; i < n; i += 1) result *= 2;
  return result;
}

const POWERS: readonly number[] = STEPS.map(smallPowerOfTwo);

/** 2^n for a whole n from 0 to 1023. */
function powerOfTwo(n: number): number {
  let result = 1;
  let left = n;
  for (let i = 0; i < STEPS.length; i += 1) {
    const step = STEPS[i] as number;
    if (left < step) continue;
    result *= POWERS[i] as number;
    left -= step;
  }
  return result;
}

/**
 * `x * 2^n`, exact unless the result is below 2^-1022. There it is rounded, and once only if |x| is near 1.
 *
 * @param n whole number
 */
export function scaleByPowerOfTwo(x: number, n: number): number {
  let result = x;
  let left = Math.abs(n);
  while (left > 1023) {
    result = n > 0 ? result * powerOfTwo(512) : result / powerOfTwo(512);
    left -= 512;
  }
  return n > 0 ? result * powerOfTwo(left) : result / powerOfTwo(left);
}

/**
 * The whole number e for which `2^e <= x < 2^(e+1)`.
 *
 * @param x finite and above zero
 */
export function exponentOf(x: number): number {
  let rest = x;
  let exponent = 0;
  for (let i = 0; i < STEPS.length; i += 1) {
    const step = STEPS[i] as number;
    const power = POWERS[i] as number;
    while (rest >= power) {
      rest /= power;
      exponent += step;
    }
    while (rest * power < 1) {
      rest *= power;
      exponent -= step;
    }
  }
  return rest >= 1 ? exponent : exponent - 1;
}
