import type { Requirement, Requirements } from "../file/requirements.ts";
import type { Limit, Rulebook } from "../rulebook.ts";
import type { BaseName } from "../words/keys.ts";
import type { ThingName } from "../words/things.ts";
import { limitsFor } from "./applies.ts";
import { boundOf } from "./bound.ts";
import type { Interval } from "./interval.ts";
import type { Selected, VehicleFacts } from "./reading.ts";
import { isUpper } from "./verdict.ts";

/** Two limits on one thing that do not say the same. Both stand; which one binds is for people to say. */
export interface Conflict {
  readonly what: ThingName;
  readonly limits: readonly [Limit, Limit];
  readonly sort: ConflictSort;
  /** The one that asks for more, going by the figures alone; undefined where that cannot be said. */
  readonly stricter?: Limit;
  /** Conditions in which the two differ, so that their readings are not the same reading. */
  readonly differentConditions: readonly string[];
  /** Figures missing to say where a limit lies for this vehicle. */
  readonly missing: readonly BaseName[];
}

export type ConflictSort =
  /** The figures differ. */
  | "figures"
  /** The figures agree; the conditions they are measured under do not. */
  | "conditions"
  /** No reading can keep both. */
  | "exclude each other"
  /** Where one of them lies cannot be worked out. */
  | "not comparable";

/**
 * Every pair of limits on a thing that apply to a vehicle and do not say the same, also within one rulebook. Nothing is averaged
 * and nothing dropped.
 *
 * @param facts what is known about the vehicle
 * @param what the thing read
 * @param rulebooks where to look
 * @param of which thing exactly
 */
export function conflicts(
  facts: VehicleFacts,
  what: ThingName,
  rulebooks: readonly Rulebook[],
  of: Selected = {},
): readonly Conflict[] {
  const { applying } = limitsFor(facts, what, rulebooks, of);
  return applying.flatMap((first, i) =>
    applying.slice(i + 1).flatMap((second) => {
      const found = sameThing(first, second) ? compare(first, second, facts) : undefined;
      return found ? [found] : [];
    }),
  );
}

function compare(first: Limit, second: Limit, facts: VehicleFacts): Conflict | undefined {
  const differentConditions = differences(first.measured, second.measured);
  const pair = { what: first.what, limits: [first, second] as const, differentConditions };
  const a = boundOf(first, facts.bases ?? {});
  const b = boundOf(second, facts.bases ?? {});
  const missing = [a, b].flatMap((one) => ("missing" in one ? one.missing : []));
  if ("missing" in a || "missing" in b) {
    const same = JSON.stringify(first.value) === JSON.stringify(second.value);
    return same || isUpper(first) !== isUpper(second) ? undefined : { ...pair, sort: "not comparable", missing };
  }
  if (isUpper(first) !== isUpper(second))
    return excludes(first, a.at, second, b.at) ? { ...pair, sort: "exclude each other", missing } : undefined;
  const stricter = stricterOf(first, a.at, second, b.at);
  if (stricter !== "same") return { ...pair, sort: "figures", missing, ...(stricter && { stricter }) };
  return differentConditions.length > 0 ? { ...pair, sort: "conditions", missing } : undefined;
}

/** Undefined where each may be the stricter one, as their intervals overlap. */
function stricterOf(first: Limit, a: Interval, second: Limit, b: Interval): Limit | "same" | undefined {
  const upper = isUpper(first);
  if (a.low === b.low && a.high === b.high) {
    if (first.comparison === second.comparison) return "same";
    return first.comparison.length === 1 ? first : second;
  }
  if (upper ? a.high <= b.low : a.low >= b.high) return first;
  return (upper ? b.high <= a.low : b.low >= a.high) ? second : undefined;
}

function excludes(first: Limit, a: Interval, second: Limit, b: Interval): boolean {
  const [most, least] = isUpper(first) ? [a, b] : [b, a];
  const touching = first.comparison.length === 1 || second.comparison.length === 1;
  return touching ? most.high <= least.low : most.high < least.low;
}

/** Whether two limits can speak of the same thing: not two rows of one table, and no key that both name differently. */
function sameThing(first: Limit, second: Limit): boolean {
  if (first.rulebook === second.rulebook && first.id.split("/")[0] === second.id.split("/")[0]) return false;
  return Object.entries(first.of).every(([key, one]) => {
    const other = second.of[key];
    return one === undefined || other === undefined || overlap(one, other);
  });
}

/** Bounds are taken to overlap: a pair too many is better than one too few. */
function overlap(first: Requirement, second: Requirement): boolean {
  if (isBounds(first) || isBounds(second)) return true;
  return choices(first).some((one) => choices(second).includes(one));
}

function isBounds(one: Requirement): boolean {
  return typeof one === "object" && !Array.isArray(one) && !("value" in one);
}

function choices(one: Requirement): readonly string[] {
  if (Array.isArray(one)) return one.map(String);
  return [typeof one === "string" ? one : JSON.stringify(one)];
}

/** Keys under which two limits ask for different things, or only one asks. */
function differences(first: Requirements, second: Requirements): string[] {
  const keys = [...new Set([...Object.keys(first), ...Object.keys(second)])];
  return keys.filter((key) => JSON.stringify(first[key]) !== JSON.stringify(second[key]));
}
