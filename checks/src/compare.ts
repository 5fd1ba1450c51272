import type { Comparison } from "./check.ts";

/**
 * The comparers. Each is written so that NaN fails. `reason` says where the tolerance comes from; a published tolerance is never
 * widened here.
 */

interface Named {
  readonly what: string;
  readonly unit: string;
  readonly got: number;
}

/** A figure without needless digits: four that count. */
export function figure(value: number): string {
  if (!Number.isFinite(value)) return String(value);
  if (value === 0) return "0";
  const size = Math.abs(value);
  if (size >= 1e5 || size < 1e-3) return value.toExponential(2);
  return String(Number(value.toPrecision(4)));
}

/** Within `within` of a figure. */
export function near(
  spec: Named & {
    readonly expected: number;
    readonly within: number;
    readonly reason: string;
    readonly printed?: string;
  },
): Comparison {
  const { what, unit, got, expected, within, reason } = spec;
  if (!(within > 0)) throw new RangeError(`${what}: a tolerance must be above zero, not ${within}`);
  const margin = Math.abs(got - expected) / within;
  return {
    what,
    unit,
    got,
    expected: spec.printed ?? figure(expected),
    tolerance: `within ${figure(within)} ${unit}: ${reason}`,
    margin,
    ok: margin <= 1,
  };
}

/** Within a share of a figure: 0.01 is 1 %. */
export function nearShare(
  spec: Named & {
    readonly expected: number;
    readonly share: number;
    readonly reason: string;
    readonly printed?: string;
  },
): Comparison {
  const within = Math.abs(spec.expected) * spec.share;
  return { ...near({ ...spec, within }), tolerance: `within ${figure(spec.share * 100)} %: ${spec.reason}` };
}

/** Between two bounds, both included. The margin is the distance from the middle over half the width. */
export function between(
  spec: Named & { readonly low: number; readonly high: number; readonly reason: string; readonly printed?: string },
): Comparison {
  const { what, unit, got, low, high, reason } = spec;
  if (!(low < high)) throw new RangeError(`${what}: the bounds ${low} and ${high} hold nothing between them`);
  const margin = Math.abs(got - (low + high) / 2) / ((high - low) / 2);
  const ok = got >= low && got <= high;
  return {
    what,
    unit,
    got,
    expected: spec.printed ?? `${figure(low)} to ${figure(high)}`,
    tolerance: reason,
    margin,
    ok,
  };
}

/** Where ordinary vehicles lie, both sides, and how that is known. */
export interface Ordinary {
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

interface Limit extends Named {
  readonly limit: number;
  readonly ordinary: Ordinary;
}

function placed(spec: Limit, kept: boolean, share: number, sign: string): Comparison {
  const { what, unit, got, limit, ordinary } = spec;
  const inBand = got >= ordinary.low && got <= ordinary.high;
  const suspicious =
    kept && share < 0.5
      ? `better than the limit by more than half (${figure((1 - share) * 100)} %): look why`
      : undefined;
  return {
    what,
    unit,
    got,
    expected: `${sign} ${figure(limit)}; ordinary vehicles ${figure(ordinary.low)} to ${figure(ordinary.high)}`,
    tolerance: `a limit, to be kept; and the band of ordinary vehicles: ${ordinary.source}`,
    margin: inBand ? Math.max(0, share) : Math.max(share, 1 + outside(got, ordinary)),
    ok: kept && inBand,
    ...(suspicious ? { suspicious } : {}),
  };
}

function outside(got: number, { low, high }: Ordinary): number {
  return (got < low ? low - got : got - high) / (high - low);
}

/** Not above a limit, and not outside the band of ordinary vehicles. */
export function atMost(spec: Limit): Comparison {
  return placed(spec, spec.got <= spec.limit, spec.got / spec.limit, "at most");
}

/** Not below a limit, and not outside the band of ordinary vehicles. */
export function atLeast(spec: Limit): Comparison {
  return placed(spec, spec.got >= spec.limit, 2 - spec.got / spec.limit, "at least");
}

/** Something that must be above a bound for a reason of principle, with no band. */
export function above(spec: Named & { readonly bound: number; readonly reason: string }): Comparison {
  const { what, unit, got, bound, reason } = spec;
  return oneSided(what, unit, got, got > bound, `above ${figure(bound)}`, reason);
}

/** Something that must be below a bound for a reason of principle, with no band. */
export function below(spec: Named & { readonly bound: number; readonly reason: string }): Comparison {
  const { what, unit, got, bound, reason } = spec;
  return oneSided(what, unit, got, got < bound, `below ${figure(bound)}`, reason);
}

function oneSided(
  what: string,
  unit: string,
  got: number,
  ok: boolean,
  expected: string,
  tolerance: string,
): Comparison {
  return { what, unit, got, expected, tolerance, margin: ok ? 0 : 2, ok };
}

/** Names in the order in which they should happen, each with when it did (NaN for never). `got` is how many stood in order. */
export function inOrder(spec: {
  readonly what: string;
  readonly happened: readonly (readonly [name: string, timeS: number])[];
  readonly reason: string;
}): Comparison {
  const { what, happened, reason } = spec;
  if (happened.length < 2) throw new RangeError(`${what}: an order needs two or more happenings`);
  let inPlace = happened[0]![1] >= 0 ? 1 : 0;
  while (inPlace > 0 && inPlace < happened.length && happened[inPlace]![1] > happened[inPlace - 1]![1]) inPlace += 1;
  const seen = happened.map(([name, timeS]) => `${name} (${timeS >= 0 ? `${timeS.toFixed(2)} s` : "never"})`);
  const ok = inPlace === happened.length;
  return {
    what,
    unit: `of ${happened.length} in order`,
    expected: seen.join(", then "),
    got: inPlace,
    tolerance: `exact: ${reason}`,
    margin: ok ? 0 : 2,
    ok,
  };
}

/** Values that must rise from each to the next by more than `least`. `got` is the smallest step. */
export function rising(spec: {
  readonly what: string;
  readonly unit: string;
  readonly values: readonly number[];
  readonly reason: string;
  readonly least?: number;
}): Comparison {
  const { what, unit, values, reason, least = 0 } = spec;
  if (values.length < 2) throw new RangeError(`${what}: two or more values are needed to rise`);
  const steps = values.slice(1).map((v, i) => v - values[i]!);
  const smallest = Math.min(...steps);
  const ok = smallest > least;
  return {
    what: `${what} (${values.map(figure).join(", ")}): smallest step`,
    unit,
    expected: `above ${figure(least)}`,
    got: smallest,
    tolerance: reason,
    margin: ok ? 0 : 2,
    ok,
  };
}
