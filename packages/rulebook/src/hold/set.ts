import type { Limit, Rulebook } from "../rulebook.ts";
import { allOf, concerns, limitsFor } from "./applies.ts";
import type { Reading, VehicleFacts } from "./reading.ts";
import { about, hold, type Outcome, type Reason, type ReasonCode, type Verdict } from "./verdict.ts";

/**
 * Holds several readings of one thing against a limit that speaks of a set, such as the best of six stops; against any other limit all
 * must keep it. The order of the readings does not count.
 */
export function holdSet(limit: Limit, readings: readonly Reading[], facts: VehicleFacts): Verdict {
  const verdicts = readings.map((reading) => hold(limit, reading, facts));
  const counts = countOutcomes(verdicts);
  const { outcome, codes } = limit.set
    ? outcomeOfSome(counts, readings.length, limit.set)
    : outcomeOfAll(counts, readings.length);
  const inner = outcome === "cannot tell" ? verdicts.flatMap((one) => one.reasons) : [];
  return {
    ...about(limit),
    outcome,
    reasons: joinReasons([...codes.map((code) => ({ code, keys: [] })), ...inner]),
    vouchedFor: [...new Set(verdicts.flatMap((one) => one.vouchedFor))],
  };
}

/** Holds readings against every limit that concerns them, in the order of the rulebooks; limits for other vehicles are left out. */
export function verdictsOn(
  readings: readonly Reading[],
  facts: VehicleFacts,
  rulebooks: readonly Rulebook[],
): readonly Verdict[] {
  const things = [...new Set(readings.map((reading) => reading.what))];
  return things.flatMap((what) => {
    const { applying, open } = limitsFor(facts, what, rulebooks);
    const limits = [...applying, ...open.map((one) => one.limit)];
    return limits.flatMap((limit) => {
      const meant = readings.filter((one) => one.what === what && allOf(concerns(limit, one.of ?? {})) !== "no");
      return meant.length > 0 ? [holdSet(limit, meant, facts)] : [];
    });
  });
}

/** Limits that verdicts rest on, though nobody has read or confirmed them: a certificate must list these. */
export function unconfirmed(verdicts: readonly Verdict[]): readonly Limit[] {
  return verdicts.filter((one) => one.fromMemory && !one.confirmed).map((one) => one.limit);
}

interface Counts {
  readonly meets: number;
  readonly fails: number;
}

function countOutcomes(verdicts: readonly Verdict[]): Counts {
  return {
    meets: verdicts.filter((one) => one.outcome === "meets").length,
    fails: verdicts.filter((one) => one.outcome === "fails").length,
  };
}

interface SetOutcome {
  readonly outcome: Outcome;
  readonly codes: readonly ReasonCode[];
}

function outcomeOfAll({ meets, fails }: Counts, total: number): SetOutcome {
  if (fails > 0) return { outcome: "fails", codes: [] };
  if (total > 0 && meets === total) return { outcome: "meets", codes: [] };
  return { outcome: "cannot tell", codes: [total === 0 ? "tooFewReadings" : "readingsUndecided"] };
}

/** The readings not yet taken and those undecided could each still go either way. */
function outcomeOfSome({ meets, fails }: Counts, total: number, set: { atLeast: number; of: number }): SetOutcome {
  if (total > set.of) return { outcome: "cannot tell", codes: ["tooManyReadings"] };
  if (meets >= set.atLeast) return { outcome: "meets", codes: [] };
  if (fails > set.of - set.atLeast) return { outcome: "fails", codes: [] };
  return { outcome: "cannot tell", codes: [total < set.of ? "tooFewReadings" : "readingsUndecided"] };
}

function joinReasons(reasons: readonly Reason[]): Reason[] {
  const codes = [...new Set(reasons.map((one) => one.code))];
  return codes.map((code) => ({
    code,
    keys: [...new Set(reasons.filter((one) => one.code === code).flatMap((one) => one.keys))],
  }));
}
