import type { Limit, Rulebook } from "../rulebook.ts";
import { FACTS, SELECTORS } from "../words/keys.ts";
import type { ThingName } from "../words/things.ts";
import { type AnyGiven, every, type KeyMatch, type Match, matchKeys, some } from "./match.ts";
import type { Selected, VehicleFacts } from "./reading.ts";

/** Whether a limit applies to a vehicle, and the facts that would have to be known to say. */
export interface Applies {
  readonly match: Match;
  readonly missing: readonly string[];
}

/** Whether something applies to a vehicle of which this is known. */
export function appliesTo(limit: Pick<Limit, "appliesTo">, facts: VehicleFacts): Applies {
  const groups = limit.appliesTo.map((group) =>
    group.map((alternative) => matchKeys(alternative, facts as AnyGiven, FACTS)),
  );
  const matches = groups.map((group) => some(group.map(allOf)));
  const match = every(matches);
  const open = groups.filter((_, i) => matches[i] === "unknown").flat();
  return { match, missing: match === "unknown" ? unknownKeys(open.filter((keys) => allOf(keys) === "unknown")) : [] };
}

/** Whether a limit is for the thing that is meant. Keys that only one of the two names stay open for `limitsFor`. */
export function concerns(limit: Limit, of: Selected): KeyMatch[] {
  return matchKeys(limit.of, of, SELECTORS);
}

/** One answer for all keys. */
export function allOf(keys: readonly KeyMatch[]): Match {
  return every(keys.map((one) => one.match));
}

function unknownKeys(lists: readonly (readonly KeyMatch[])[]): string[] {
  const open = lists.flat().filter((one) => one.match === "unknown");
  return [...new Set(open.map((one) => one.key))];
}

/** Limits for a vehicle: those that apply, and those of which it cannot be told. */
export interface LimitsFor {
  readonly applying: readonly Limit[];
  readonly open: readonly { readonly limit: Limit; readonly missing: readonly string[] }[];
}

/**
 * The limits on a thing for a vehicle of which this is known, from every rulebook given. Nothing is merged: where two differ, both
 * are in the list.
 *
 * @param facts what is known about the vehicle
 * @param what the thing read
 * @param rulebooks where to look
 * @param of which thing exactly; limits for another one are left out, those that ask for more than is said stay in
 */
export function limitsFor(
  facts: VehicleFacts,
  what: ThingName,
  rulebooks: readonly Rulebook[],
  of: Selected = {},
): LimitsFor {
  const applying: Limit[] = [];
  const open: { limit: Limit; missing: readonly string[] }[] = [];
  for (const limit of rulebooks.flatMap((one) => one.limits)) {
    if (limit.what !== what || allOf(concerns(limit, of)) === "no") continue;
    const { match, missing } = appliesTo(limit, facts);
    if (match === "yes") applying.push(limit);
    if (match === "unknown") open.push({ limit, missing });
  }
  return { applying, open };
}
