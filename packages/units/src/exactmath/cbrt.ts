import { exponentOf, scaleByPowerOfTwo } from "./binary.ts";
import { requireRange } from "./domain.ts";
import { lowOfProduct } from "./twofold.ts";

/** Newton's step y - (y^3 - m) / (3 y^2), with y^3 formed twofold so that the last step is good to the last digit. */
function improve(y: number, m: number): number {
  const square = y * y;
  const squareLo = lowOfProduct(y, y, square);
  const cube = square * y;
  const cubeLo = lowOfProduct(square, y, cube) + squareLo * y;
  return y - (cube - m + cubeLo) / (3 * square);
}

/**
 * Cube root, the same bits in every engine. Error below 0.6 units in the last place.
 *
 * @param x any finite number; the root of a negative number is negative
 * @throws RangeError for infinity and NaN
 */
export function cbrt(x: number): number {
  requireRange("cbrt", x, -Number.MAX_VALUE, Number.MAX_VALUE);
  const size = Math.abs(x);
  if (size === 0) return 0;
  const third = Math.floor(exponentOf(size) / 3);
  const m = scaleByPowerOfTwo(size, -3 * third);
  let y = 0.7 + 0.4 * m - 0.03 * m * m;
  for (let i = 0; i < 6; i += 1) y = improve(y, m);
  const root = scaleByPowerOfTwo(y, third);
  return x < 0 ? -root : root;
}
