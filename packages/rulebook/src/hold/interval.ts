/** A value known to lie between two numbers, both belonging to it; SI. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** A number known exactly, or an interval. */
export type Known = number | Interval;

/**
 * What is known as an interval.
 * @throws RangeError when an end is no number or the ends are the wrong way round
 */
export function intervalOf(known: Known, name: string): Interval {
  const { low, high } = typeof known === "number" ? { low: known, high: known } : known;
  if (low <= high && low > Number.NEGATIVE_INFINITY && high < Number.POSITIVE_INFINITY) return { low, high };
  throw new RangeError(`${name} must be a number or go from a lower to a higher number, not from ${low} to ${high}`);
}

/** Both ends through a function that never falls. */
export function mapRising(interval: Interval, rising: (value: number) => number): Interval {
  return { low: rising(interval.low), high: rising(interval.high) };
}
