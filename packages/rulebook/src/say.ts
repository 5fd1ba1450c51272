import type { Confirmation } from "./confirm.ts";
import type { Value } from "./file/value.ts";
import type { Verdict } from "./hold/verdict.ts";
import type { Limit } from "./rulebook.ts";

/** The figure of a limit in one line, as it is printed: `<= 0.45 s`, `>= 12`, `<= 85 % of ratedStroke`. */
export function limitText(limit: Pick<Limit, "comparison" | "value" | "alsoPrinted">): string {
  const also = limit.alsoPrinted ? ` (${withUnit(limit.alsoPrinted.value, limit.alsoPrinted.unit)})` : "";
  return `${limit.comparison} ${valueText(limit.value)}${also}`;
}

function valueText(value: Value): string {
  if ("lesserOf" in value) return `the lesser of ${value.lesserOf.map(valueText).join(" and ")}`;
  if ("greaterOf" in value) return `the greater of ${value.greaterOf.map(valueText).join(" and ")}`;
  if ("factor" in value) return value.factor === 1 ? value.of : `${value.factor} x ${value.of}`;
  if ("linear" in value)
    return `${value.linear} v + ${squareText(value)} (v in ${value.speed}, result in ${value.unit})`;
  const plain = withUnit(value.value, value.unit);
  return "times" in value ? `${plain} x ${value.times} / ${value.over}` : plain;
}

function squareText(value: { square?: number; percent?: number; over: number }): string {
  const square = value.square === undefined ? "" : `${value.square} `;
  const percent = value.percent === undefined ? "" : `100/${value.percent} `;
  return `${percent}${square}v2/${value.over}`;
}

function withUnit(value: number, unit: string): string {
  return unit === "1" ? String(value) : `${value} ${unit}`;
}

/** Where a limit stands: text, clause, edition, date, and whether anybody has seen the figure. */
export function citationText(limit: Limit): string {
  return `${limit.text} ${limit.clause}, ${limit.edition}, ${limit.date} (${standingText(limit)})`;
}

function standingText(limit: Limit): string {
  const read = `read in ${limit.sources.map((one) => one.id).join(", ")}`;
  const own = limit.status === "read" ? read : "from memory";
  const recalled = limit.recalled === undefined ? "" : `, but from memory: ${limit.recalled}`;
  if (limit.confirmed) return `${own}${recalled}, confirmed by ${confirmedText(limit.confirmed)}`;
  return `${own}${recalled}${own === read && recalled === "" ? "" : ", not confirmed"}`;
}

function confirmedText({ who, when, copy }: Confirmation): string {
  return `${who}, ${when}, against ${copy}`;
}

const REASONS: Readonly<Record<Verdict["reasons"][number]["code"], string>> = {
  doesNotApply: "the limit is for other vehicles",
  applicabilityUnknown: "not known about the vehicle",
  anotherThing: "the limit is for another thing",
  thingUnknown: "not said which thing was read",
  conditionNotMet: "condition not met",
  conditionUnknown: "condition not known",
  baseUnknown: "figure missing",
  disputed: "the sources disagree whether the limit stands",
  straddles: "what is not known about the reading reaches to both sides of the limit",
  tooFewReadings: "more readings are needed",
  tooManyReadings: "there are more readings than the test allows",
  readingsUndecided: "some readings are undecided",
};

/** A verdict in one line of English, with what it rests on. */
export function verdictText(verdict: Verdict): string {
  const reasons = verdict.reasons.map((one) =>
    one.keys.length > 0 ? `${REASONS[one.code]}: ${one.keys.join(", ")}` : REASONS[one.code],
  );
  const vouched = verdict.vouchedFor.length > 0 ? ["conditions vouched for by whoever took the reading"] : [];
  const more = [...reasons, ...vouched].map((one) => `; ${one}`).join("");
  return `${verdict.outcome} ${limitText(verdict.limit)}, ${citationText(verdict.limit)}${more}`;
}
