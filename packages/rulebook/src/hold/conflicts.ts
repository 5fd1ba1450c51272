import type { Test, Tests } from "../file/tests.ts";
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
      const found = sameThing(first.of, second.of) ? compare(first, second, facts) : undefined;
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

/** Whether two limits can speak of the same thing: no key that both name asks for something else. */
function sameThing(first: Tests, second: Tests): boolean {
  return Object.entries(first).every(([key, test]) => {
    const other = second[key];
    return test === undefined || other === undefined || overlap(test, other);
  });
}

function overlap(first: Test, second: Test): boolean {
  if (typeof first === "object" && !Array.isArray(first) && "from" in first) return true;
  const list = (test: Test): readonly string[] => (Array.isArray(test) ? test : [JSON.stringify(test)]).map(String);
  const texts = (test: Test): readonly string[] => (typeof test === "string" ? [test] : list(test));
  return texts(first).some((one) => texts(second).includes(one));
}

/** Keys under which two limits ask for different things, or only one asks. */
function differences(first: Tests, second: Tests): string[] {
  const keys = [...new Set([...Object.keys(first), ...Object.keys(second)])];
  return keys.filter((key) => JSON.stringify(first[key]) !== JSON.stringify(second[key]));
}
