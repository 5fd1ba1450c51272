import { hasUnit, type QuantityKind, unitNames } from "@brakeyard/units";
import type * as z from "zod/mini";
import { oneOf, type PathParts, shown } from "../text/problem.ts";
import type { KeyRule, KeyRules } from "../words/rules.ts";
import {
  dateFindings,
  type Finding,
  finding,
  isObject,
  judged,
  numberFindings,
  objectFindings,
  wordFindings,
} from "./judge.ts";

/** A number with its unit. */
export interface Amount {
  readonly value: number;
  readonly unit: string;
}

/** Bounds with their unit; `from` and `to` belong to it, `above` and `below` do not. */
export interface Bounds {
  readonly from?: number;
  readonly to?: number;
  readonly above?: number;
  readonly below?: number;
  readonly unit?: string;
}

/** Bounds of a day: on or after `from`, before `before`. */
export interface Days {
  readonly from?: string;
  readonly before?: string;
}

/** What one key asks for. */
export type Requirement = string | readonly string[] | boolean | number | Amount | Bounds | Days;

/** What several keys ask for; all must hold. */
export type Requirements<R extends KeyRules = KeyRules> = { readonly [K in keyof R]?: Requirement };

const BOUND_KEYS = ["from", "to", "above", "below"];

/** Schema of an object whose keys and values follow rules. */
export function requirements<R extends KeyRules>(rules: R): z.ZodMiniType<Requirements<R>> {
  return judged<Requirements<R>>((value) => requirementFindings(value, rules));
}

function requirementFindings(value: unknown, rules: KeyRules): Finding[] {
  const found = objectFindings(value, Object.keys(rules), [], "an object, {...}");
  if (!isObject(value)) return found;
  const inside = Object.entries(value).flatMap(([key, one]) => {
    const rule = Object.hasOwn(rules, key) ? rules[key] : undefined;
    return rule ? oneRequirement(one, rule, [key]) : [];
  });
  return [...found, ...inside];
}

function oneRequirement(value: unknown, rule: KeyRule, at: PathParts): Finding[] {
  switch (rule.type) {
    case "choice":
      return choiceFindings(value, rule.options, at);
    case "range":
      return boundFindings(value, rule.kind, at);
    case "nominal":
      return amountFindings(value, rule.kind, at);
    case "count":
      return typeof value === "number" ? numberFindings(value, at) : boundFindings(value, undefined, at);
    case "flag":
      return typeof value === "boolean" ? [] : [finding(at, `${shown(value)} stands here`, "write true or false")];
    case "date":
      return dayFindings(value, at);
    default:
      return typeof value === "string" && value.trim() !== ""
        ? []
        : [finding(at, `${shown(value)} stands here`, "write a text in quotes")];
  }
}

function choiceFindings(value: unknown, options: readonly string[], at: PathParts): Finding[] {
  if (!Array.isArray(value)) return wordFindings(value, options, at);
  if (value.length === 0) return [finding(at, "the list is empty", "write at least one choice")];
  return value.flatMap((one, i) => wordFindings(one, options, [...at, i]));
}

/** What is wrong with a number and its unit. */
export function amountFindings(value: unknown, kind: QuantityKind | undefined, at: PathParts): Finding[] {
  const unit = kind ? unitNames(kind)[0] : "psi";
  const found = objectFindings(value, ["value", "unit"], at, `a value such as {"value": 1, "unit": "${unit}"}`);
  if (!isObject(value)) return found;
  return [...found, ...numberFindings(value["value"], [...at, "value"]), ...unitFindings(value["unit"], kind, at)];
}

function boundFindings(value: unknown, kind: QuantityKind | undefined, at: PathParts): Finding[] {
  const keys = kind ? [...BOUND_KEYS, "unit"] : BOUND_KEYS;
  const example = kind
    ? `bounds such as {"from": 1, "to": 2, "unit": "${unitNames(kind)[0]}"}`
    : 'a number or {"from": 3}';
  const found = objectFindings(value, keys, at, example);
  if (!isObject(value)) return found;
  const given = BOUND_KEYS.filter((key) => value[key] !== undefined);
  if (given.length === 0) found.push(finding(at, "there is no bound", `write ${example}`));
  found.push(...given.flatMap((key) => numberFindings(value[key], [...at, key])));
  if (kind) found.push(...unitFindings(value["unit"], kind, at));
  return found.length > 0 ? found : orderFindings(value as Bounds, at);
}

function orderFindings(bounds: Bounds, at: PathParts): Finding[] {
  const low = bounds.from ?? bounds.above ?? Number.NEGATIVE_INFINITY;
  const high = bounds.to ?? bounds.below ?? Number.POSITIVE_INFINITY;
  return low <= high ? [] : [finding(at, `${low} is above ${high}`, "write the lower bound first")];
}

/** What is wrong with a unit. */
export function unitFindings(unit: unknown, kind: QuantityKind | undefined, at: PathParts): Finding[] {
  const place = [...at, "unit"];
  if (kind === undefined)
    return typeof unit === "string" ? [] : [finding(place, "the unit is missing", "write a unit in quotes")];
  if (typeof unit === "string" && hasUnit(kind, unit)) return [];
  const message = unit === undefined ? "the unit is missing" : `${shown(unit)} is not a unit for this`;
  return [finding(place, message, `write ${oneOf(unitNames(kind).map((name) => `"${name}"`))}`)];
}

function dayFindings(value: unknown, at: PathParts): Finding[] {
  const found = objectFindings(value, ["from", "before"], at, '{"from": "2011-08-01"} or {"before": "1975-03-01"}');
  if (!isObject(value)) return found;
  const given = ["from", "before"].filter((key) => value[key] !== undefined);
  if (given.length === 0) found.push(finding(at, "there is no day", 'write "from", "before" or both'));
  return [...found, ...given.flatMap((key) => dateFindings(value[key], [...at, key]))];
}
