import { fromSi, type QuantityKind, toSi } from "@brakeyard/units";
import type { BySpeed, Value } from "../file/value.ts";
import type { Limit } from "../rulebook.ts";
import type { BaseName } from "../words/keys.ts";
import { type Interval, intervalOf, type Known, mapRising } from "./interval.ts";

/** Figures of the vehicle or the test by which some limits are worked out, SI. */
export type Bases = { readonly [K in BaseName]?: Known };

/** Where a limit lies, SI; or which figures are missing to say. */
export type Bound = { readonly at: Interval } | { readonly missing: readonly BaseName[] };

/**
 * Where a limit lies for a vehicle. It is an interval where a figure it is worked out from is one, and where the text prints
 * the limit in two units that do not quite agree.
 */
export function boundOf(limit: Limit, bases: Bases): Bound {
  const missing = missingIn(limit.value, bases);
  if (missing.length > 0) return { missing: [...new Set(missing)] };
  const at = placeOf(limit.value, limit.quantity, bases);
  if (!limit.alsoPrinted) return { at };
  const also = toSi(limit.quantity, limit.alsoPrinted.value, limit.alsoPrinted.unit);
  return { at: { low: Math.min(at.low, also), high: Math.max(at.high, also) } };
}

function missingIn(value: Value, bases: Bases): BaseName[] {
  if ("lesserOf" in value) return value.lesserOf.flatMap((one) => missingIn(one, bases));
  if ("greaterOf" in value) return value.greaterOf.flatMap((one) => missingIn(one, bases));
  const needed: BaseName[] = [];
  if ("factor" in value) needed.push(value.of);
  if ("times" in value) needed.push(value.times, value.over);
  if ("linear" in value) needed.push("initialSpeed");
  return needed.filter((name) => bases[name] === undefined);
}

function base(name: BaseName, bases: Bases): Interval {
  return intervalOf(bases[name] ?? Number.NaN, name);
}

/** Every form rises with what is put in, but for a divisor, whose ends change places. */
function placeOf(value: Value, kind: QuantityKind, bases: Bases): Interval {
  if ("lesserOf" in value) return together(value.lesserOf, kind, bases, Math.min);
  if ("greaterOf" in value) return together(value.greaterOf, kind, bases, Math.max);
  if ("factor" in value) return mapRising(base(value.of, bases), (one) => value.factor * one);
  if ("linear" in value) return mapRising(base("initialSpeed", bases), (one) => bySpeed(value, one));
  const plain = toSi(kind, value.value, value.unit);
  if (!("times" in value)) return { low: plain, high: plain };
  const over = base(value.over, bases);
  const times = base(value.times, bases);
  if (!(over.low > 0)) throw new RangeError(`${value.over} must be above zero, not ${over.low}`);
  return { low: (plain * times.low) / over.high, high: (plain * times.high) / over.low };
}

function together(
  values: readonly Value[],
  kind: QuantityKind,
  bases: Bases,
  take: (...ends: number[]) => number,
): Interval {
  const each = values.map((one) => placeOf(one, kind, bases));
  return { low: take(...each.map((one) => one.low)), high: take(...each.map((one) => one.high)) };
}

function bySpeed(value: BySpeed, speedSi: number): number {
  if (!(speedSi >= 0)) throw new RangeError(`initialSpeed must not be below zero, not ${speedSi}`);
  const v = fromSi("speed", speedSi, value.speed);
  const share = ((value.square ?? 1) * 100) / (value.percent ?? 100);
  return toSi("distance", value.linear * v + (share * v * v) / value.over, value.unit);
}
