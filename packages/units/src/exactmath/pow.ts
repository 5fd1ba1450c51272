import { requireRange } from "./domain.ts";
import { expOfTwofold } from "./exp.ts";
import { logTwofold } from "./log.ts";
import { lowOfProduct } from "./twofold.ts";

/**
 * x to the power y, the same bits in every engine. Error below 1 unit in the last place for results above 1e-307.
 *
 * @param x zero or above; with x = 0, y must be zero or above
 * @param y any finite number small enough for the result to be a number
 * @returns 0 where the result is too small for a number; 1 for y = 0
 * @throws RangeError for negative x, for NaN, for 0 to a negative power, and where the result is too large
 */
export function pow(x: number, y: number): number {
  requireRange("pow: base", x, 0, Number.MAX_VALUE);
  requireRange("pow: exponent", y, x === 0 ? 0 : -Number.MAX_VALUE, Number.MAX_VALUE);
  if (y === 0 || x === 1) return 1;
  if (x === 0) return 0;
  const logX = logTwofold(x);
  const product = y * logX.hi;
  if (product < -746) return 0;
  if (!(product < 709.79)) throw new RangeError(`pow: ${x} to the power ${y} is too large for a number`);
  const low = lowOfProduct(y, logX.hi, product) + y * logX.lo;
  const result = expOfTwofold(product, low);
  if (!(result <= Number.MAX_VALUE)) throw new RangeError(`pow: ${x} to the power ${y} is too large for a number`);
  return result;
}
