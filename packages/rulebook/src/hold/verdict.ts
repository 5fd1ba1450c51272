import { fromSi, toSi } from "@brakeyard/units";
import type { Confirmation } from "../confirm.ts";
import type { Limit } from "../rulebook.ts";
import { CONDITIONS } from "../words/keys.ts";
import { allOf, appliesTo, concerns } from "./applies.ts";
import { boundOf } from "./bound.ts";
import { type Interval, intervalOf, mapRising } from "./interval.ts";
import { matchKeys } from "./match.ts";
import type { Reading, VehicleFacts } from "./reading.ts";

export type Outcome = "meets" | "fails" | "cannot tell";

/** Why it cannot be told. */
export interface Reason {
  readonly code: ReasonCode;
  /** Keys that are missing or not as they must be. */
  readonly keys: readonly string[];
}

export type ReasonCode =
  /** The limit is for other vehicles. */
  | "doesNotApply"
  /** Facts about the vehicle are missing. */
  | "applicabilityUnknown"
  /** The limit is for another thing than the one read. */
  | "anotherThing"
  /** It is not said which thing was read. */
  | "thingUnknown"
  | "conditionNotMet"
  | "conditionUnknown"
  /** A figure is missing by which the limit is worked out. */
  | "baseUnknown"
  /** The sources disagree whether the limit stands. */
  | "disputed"
  /** What is not known about the reading reaches to both sides of the limit. */
  | "straddles"
  | "tooFewReadings"
  | "tooManyReadings"
  | "readingsUndecided";

/** A reading held against a limit. */
export interface Verdict {
  readonly outcome: Outcome;
  readonly limit: Limit;
  readonly reasons: readonly Reason[];
  /** The figure, or a condition it hangs on, was not read in its source: this is said wherever the verdict shows. */
  readonly fromMemory: boolean;
  readonly confirmed?: Confirmation;
  /** Conditions for which only the word of whoever took the reading stands. */
  readonly vouchedFor: readonly string[];
  /** Room between reading and limit, SI, above zero on the good side; only where the limit can be worked out. */
  readonly room?: Interval;
}

/**
 * Holds one reading against one limit. `cannot tell` when the reading's interval reaches to both sides of the limit, when a condition
 * was not met or is not known, when a figure is missing, and when the limit does not apply to the vehicle or it is not known whether.
 *
 * @throws RangeError when a number handed over is none
 */
export function hold(limit: Limit, reading: Reading, facts: VehicleFacts): Verdict {
  const conditions = conditionsOf(limit, reading);
  const bound = boundOf(limit, { ...facts.bases, ...reading.bases });
  const reasons = [
    ...vehicleReasons(limit, facts),
    ...thingReasons(limit, reading),
    ...conditions.reasons,
    ...("missing" in bound ? [{ code: "baseUnknown", keys: bound.missing } as const] : []),
    ...(limit.disputed === undefined ? [] : [{ code: "disputed", keys: [] } as const]),
  ];
  const comparable = reading.what === limit.what && "at" in bound;
  const room = comparable ? roomOf(limit, intervalOf(reading.value, limit.what), bound.at) : undefined;
  const side = room ? sideOf(limit, room) : "cannot tell";
  if (room && side === "cannot tell") reasons.push({ code: "straddles", keys: [] });
  return {
    ...about(limit),
    outcome: reasons.length > 0 ? "cannot tell" : side,
    reasons,
    vouchedFor: conditions.vouchedFor,
    ...(room && { room }),
  };
}

/** What every verdict on a limit says of it. */
export function about(limit: Limit): Pick<Verdict, "limit" | "fromMemory" | "confirmed"> {
  const fromMemory = limit.status === "from memory" || limit.recalled !== undefined;
  return { limit, fromMemory, ...(limit.confirmed && { confirmed: limit.confirmed }) };
}

function vehicleReasons(limit: Limit, facts: VehicleFacts): Reason[] {
  const { match, missing } = appliesTo(limit, facts);
  if (match === "yes") return [];
  return [{ code: match === "no" ? "doesNotApply" : "applicabilityUnknown", keys: missing }];
}

function thingReasons(limit: Limit, reading: Reading): Reason[] {
  if (reading.what !== limit.what) return [{ code: "anotherThing", keys: ["what"] }];
  const keys = concerns(limit, reading.of ?? {});
  const match = allOf(keys);
  if (match === "yes") return [];
  const odd = keys.filter((one) => one.match === match).map((one) => one.key);
  return [{ code: match === "no" ? "anotherThing" : "thingUnknown", keys: odd }];
}

interface HeldConditions {
  readonly reasons: readonly Reason[];
  readonly vouchedFor: readonly string[];
}

function conditionsOf(limit: Limit, reading: Reading): HeldConditions {
  const given = reading.conditions ?? {};
  const keys = matchKeys(limit.measured, given, CONDITIONS);
  const failed = keys.filter((one) => one.match === "no").map((one) => one.key);
  const open = keys.filter((one) => one.match === "unknown").map((one) => one.key);
  // A condition that was measured, but not closely enough to say, cannot be vouched for.
  const silent = open.filter((key) => given[key as keyof typeof given] === undefined);
  const vouchedFor = reading.vouched === true ? silent : [];
  const unknown = open.filter((key) => !vouchedFor.includes(key));
  const reasons: Reason[] = [];
  if (failed.length > 0) reasons.push({ code: "conditionNotMet", keys: failed });
  if (unknown.length > 0) reasons.push({ code: "conditionUnknown", keys: unknown });
  return { reasons, vouchedFor };
}

/** Whether the reading must not be above the figure. */
export function isUpper(limit: Limit): boolean {
  return limit.comparison === "<" || limit.comparison === "<=";
}

/** From the least to the most room there can be, given reading and limit. */
function roomOf(limit: Limit, value: Interval, at: Interval): Interval {
  const read = limit.rounding ? mapRising(value, (one) => rounded(limit, one)) : value;
  return isUpper(limit)
    ? { low: at.low - read.high, high: at.high - read.low }
    : { low: read.low - at.high, high: read.high - at.low };
}

/** Rounded as the text says, halves up. */
function rounded(limit: Limit, si: number): number {
  const { places = 0, unit = "" } = limit.rounding ?? {};
  const scale = [1, 10, 100, 1000][places] ?? 1;
  const counted = Math.floor(fromSi(limit.quantity, si, unit) * scale + 0.5);
  return toSi(limit.quantity, counted / scale, unit);
}

function sideOf(limit: Limit, room: Interval): Outcome {
  const strict = limit.comparison === "<" || limit.comparison === ">";
  if (strict ? room.low > 0 : room.low >= 0) return "meets";
  return (strict ? room.high <= 0 : room.high < 0) ? "fails" : "cannot tell";
}
