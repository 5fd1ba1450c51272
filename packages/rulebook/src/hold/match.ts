import { type QuantityKind, toSi } from "@brakeyard/units";
import type { Amount, Bounds, Days, Requirement, Requirements } from "../file/requirements.ts";
import type { ChoiceRule, KeyRule, KeyRules } from "../words/rules.ts";
import { type Interval, intervalOf, type Known } from "./interval.ts";

/** What is known under the keys of some rules: choices, names and days as text, flags, quantities in SI. */
export type Given<R extends KeyRules> = { readonly [K in keyof R]?: GivenOf<R[K]> };

type GivenOf<R extends KeyRule> = R extends { readonly type: "range" | "nominal" | "count" }
  ? Known
  : R extends { readonly type: "flag" }
    ? boolean
    : R extends ChoiceRule<infer T>
      ? T
      : string;

/** The same where the rules are not known beforehand. */
export type AnyGiven = Readonly<Record<string, unknown>>;

/** Whether what is known satisfies what is asked for. */
export type Match = "yes" | "no" | "unknown";

/** How far a quantity may be beyond a figure and still count as that figure, relative: the rounding of unit conversion. */
const SAME = 1e-9;

/** One key's answer. */
export interface KeyMatch {
  readonly key: string;
  readonly match: Match;
}

/** Every key asked for, with its answer. */
export function matchKeys(requirements: Requirements, given: AnyGiven, rules: KeyRules): KeyMatch[] {
  return Object.entries(requirements).flatMap(([key, wanted]) => {
    const rule = rules[key];
    return rule && wanted !== undefined ? [{ key, match: matchOne(wanted, given[key], rule, key) }] : [];
  });
}

/** All of several answers together. */
export function every(matches: readonly Match[]): Match {
  if (matches.includes("no")) return "no";
  return matches.includes("unknown") ? "unknown" : "yes";
}

/** At least one of several answers. */
export function some(matches: readonly Match[]): Match {
  if (matches.includes("yes")) return "yes";
  return matches.includes("unknown") ? "unknown" : "no";
}

function matchOne(wanted: Requirement, known: unknown, rule: KeyRule, key: string): Match {
  if (known === undefined) return "unknown";
  switch (rule.type) {
    case "choice":
      return yesNo(Array.isArray(wanted) ? wanted.includes(known) : wanted === known);
    case "range":
      return matchBounds(intervalOf(known as Known, key), wanted as Bounds, rule.kind);
    case "nominal":
      return matchNominal(intervalOf(known as Known, key), wanted as Amount, rule.kind);
    case "count": {
      const bounds = typeof wanted === "number" ? { from: wanted, to: wanted } : (wanted as Bounds);
      return matchBounds(intervalOf(known as Known, key), bounds, undefined);
    }
    case "date":
      return matchDays(String(known), wanted as Days);
    default:
      return yesNo(wanted === known);
  }
}

function yesNo(holds: boolean): Match {
  return holds ? "yes" : "no";
}

/** Inside for certain, outside for certain, or neither. */
function matchBounds({ low, high }: Interval, bounds: Bounds, kind: QuantityKind | undefined): Match {
  const si = (value: number): number => (kind === undefined ? value : toSi(kind, value, bounds.unit ?? ""));
  const { from, to, above, below } = bounds;
  const parts: Match[] = [];
  if (from !== undefined) parts.push(side(low >= si(from) - slackAt(si(from)), high < si(from) - slackAt(si(from))));
  if (above !== undefined) parts.push(side(low > si(above), high <= si(above)));
  if (to !== undefined) parts.push(side(high <= si(to) + slackAt(si(to)), low > si(to) + slackAt(si(to))));
  if (below !== undefined) parts.push(side(high < si(below), low >= si(below)));
  return every(parts);
}

function slackAt(si: number): number {
  return SAME * Math.abs(si);
}

function side(inside: boolean, outside: boolean): Match {
  if (inside) return "yes";
  return outside ? "no" : "unknown";
}

function matchNominal({ low, high }: Interval, amount: Amount, kind: QuantityKind): Match {
  const named = toSi(kind, amount.value, amount.unit);
  const slack = slackAt(named);
  if (low >= named - slack && high <= named + slack) return "yes";
  return high < named - slack || low > named + slack ? "no" : "unknown";
}

/** A day known only to the year or month is any day of it. Texts of the form 2016-05-14 sort as days do. */
function matchDays(known: string, days: Days): Match {
  const first = firstDay(known);
  const last = lastDay(known);
  const parts: Match[] = [];
  if (days.from !== undefined) parts.push(side(first >= firstDay(days.from), last < firstDay(days.from)));
  if (days.before !== undefined) parts.push(side(last < firstDay(days.before), first >= firstDay(days.before)));
  return every(parts);
}

function firstDay(date: string): string {
  return `${date}-01-01`.slice(0, 10);
}

function lastDay(date: string): string {
  if (date.length === 4) return `${date}-12-31`;
  return date.length === 7 ? `${date}-31` : date;
}
