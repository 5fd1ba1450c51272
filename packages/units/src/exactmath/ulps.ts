import { exponentOf, scaleByPowerOfTwo } from "./binary.ts";

/**
 * Error of `got` against the value `hi + lo`, in units in the last place of `hi`; for tests and proofs.
 *
 * @param got result to judge
 * @param hi the value as the nearest number
 * @param lo what the value has beyond `hi`
 */
export function errorInUlps(got: number, hi: number, lo: number): number {
  const size = Math.abs(hi);
  const unit = size === 0 ? Number.MIN_VALUE : Math.max(scaleByPowerOfTwo(1, exponentOf(size) - 52), Number.MIN_VALUE);
  return Math.abs(got - hi - lo) / unit;
}
