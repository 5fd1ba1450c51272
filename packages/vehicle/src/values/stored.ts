import { hasUnit, type QuantityKind, unitNames } from "@brakeyard/units";
import { kindOf, oneOf, type PathParts, type Problem, problem, shown } from "../text/problem.ts";

/** Where a value came from: measured on this vehicle, read off a plate or build sheet, or typical of such parts. */
export type Origin = "measured" | "plate" | "typical";
export const ORIGINS: readonly Origin[] = ["measured", "plate", "typical"];

/** A number as it stands in a file. A typical one always has `low` and `high`, in the same unit. */
export interface StoredQuantity {
  readonly value: number;
  readonly unit: string;
  readonly from: Origin;
  readonly low?: number;
  readonly high?: number;
  readonly note?: string;
}

/** A choice as it stands in a file. A typical one says what else is common. */
export interface StoredChoice<T extends string = string> {
  readonly value: T;
  readonly from: Origin;
  readonly alternatives?: readonly T[];
  readonly note?: string;
}

/** A bare quantity, as run files have them: a number with its unit and nothing said of its origin. */
export interface BareQuantity {
  readonly value: number;
  readonly unit: string;
}

/** What a quantity may be: kind, and the bounds beyond which it is absurd, in `unit`. */
export interface QuantityRule {
  readonly kind: QuantityKind;
  readonly unit: string;
  readonly least: number;
  readonly most: number;
}

const QUANTITY_KEYS = ["value", "unit", "from", "low", "high", "note"];
const CHOICE_KEYS = ["value", "from", "alternatives", "note"];

/** Everything wrong with a stored quantity. `inRule` turns a number in a unit into the rule's own unit. */
export function checkQuantity(raw: unknown, rule: QuantityRule, path: PathParts, inRule: Convert): Problem[] {
  const fields = objectFields(raw, QUANTITY_KEYS, path, exampleQuantity(rule));
  if (!fields.ok) return fields.problems;
  const problems = [...fields.problems, ...checkUnit(fields.raw, rule.kind, path)];
  problems.push(...checkOrigin(fields.raw.from, path), ...checkNote(fields.raw.note, path));
  const bounds = problems.length === 0 ? { rule, unit: String(fields.raw.unit), inRule } : null;
  problems.push(...checkNumber(fields.raw.value, [...path, "value"], bounds));
  for (const key of ["low", "high"]) {
    if (fields.raw[key] !== undefined) problems.push(...checkNumber(fields.raw[key], [...path, key], bounds));
  }
  return problems.length > 0 ? problems : checkRange(fields.raw as unknown as StoredQuantity, path);
}

/** Everything wrong with a bare quantity of a run file. */
export function checkBareQuantity(raw: unknown, rule: QuantityRule, path: PathParts, inRule: Convert): Problem[] {
  const example = `{"value": ${rule.least}, "unit": "${rule.unit}"}`;
  const fields = objectFields(raw, ["value", "unit"], path, example);
  if (!fields.ok) return fields.problems;
  const problems = [...fields.problems, ...checkUnit(fields.raw, rule.kind, path)];
  const bounds = problems.length === 0 ? { rule, unit: String(fields.raw.unit), inRule } : null;
  return [...problems, ...checkNumber(fields.raw.value, [...path, "value"], bounds)];
}

/** Everything wrong with a stored choice. */
export function checkChoice(raw: unknown, options: readonly string[], path: PathParts): Problem[] {
  const fields = objectFields(raw, CHOICE_KEYS, path, `{"value": "${options[0]}", "from": "plate"}`);
  if (!fields.ok) return fields.problems;
  const problems = [...fields.problems, ...checkOrigin(fields.raw.from, path), ...checkNote(fields.raw.note, path)];
  problems.push(...checkOption(fields.raw.value, options, [...path, "value"]));
  return [...problems, ...checkAlternatives(fields.raw, options, path)];
}

/** Turns a number in some unit into the unit of a rule. */
export type Convert = (value: number, unit: string) => number;

type Fields = { ok: true; raw: Record<string, unknown>; problems: Problem[] } | { ok: false; problems: Problem[] };

function objectFields(raw: unknown, keys: readonly string[], path: PathParts, example: string): Fields {
  if (typeof raw !== "object" || raw === null || Array.isArray(raw)) {
    const message = raw === undefined ? "missing" : `${shown(raw)} stands here`;
    return { ok: false, problems: [problem(path, message, `write a value such as ${example}`)] };
  }
  const unknown = Object.keys(raw).filter((key) => !keys.includes(key));
  const problems = unknown.map((key) => problem([...path, key], "unknown key", `a value has the keys ${oneOf(keys)}`));
  return { ok: true, raw: raw as Record<string, unknown>, problems };
}

function exampleQuantity(rule: QuantityRule): string {
  return `{"value": ${Math.max(rule.least, 1)}, "unit": "${rule.unit}", "from": "plate"}`;
}

function checkUnit(raw: Record<string, unknown>, kind: QuantityKind, path: PathParts): Problem[] {
  const unit = raw.unit;
  const remedy = `write one of ${oneOf(unitNames(kind).map((name) => `"${name}"`))}`;
  if (unit === undefined) return [problem([...path, "unit"], "the unit is missing", remedy)];
  if (typeof unit === "string" && hasUnit(kind, unit)) return [];
  return [problem([...path, "unit"], `${shown(unit)} is not a unit for this`, remedy)];
}

function checkOrigin(from: unknown, path: PathParts): Problem[] {
  if (ORIGINS.includes(from as Origin)) return [];
  const remedy = 'write where the value came from: "measured", "plate" or "typical"';
  return [problem([...path, "from"], from === undefined ? "missing" : `${shown(from)} is not an origin`, remedy)];
}

function checkNote(note: unknown, path: PathParts): Problem[] {
  if (note === undefined || typeof note === "string") return [];
  return [problem([...path, "note"], `${kindOf(note)} stands here`, "a note is a text in quotes")];
}

type Bounds = { rule: QuantityRule; unit: string; inRule: Convert } | null;

function checkNumber(value: unknown, path: PathParts, bounds: Bounds): Problem[] {
  if (typeof value !== "number" || !Number.isFinite(value)) {
    const message = value === undefined ? "missing" : `${shown(value)} is not a number`;
    return [problem(path, message, "write a number without quotes")];
  }
  if (!bounds) return [];
  const { rule, unit, inRule } = bounds;
  const inUnit = inRule(value, unit);
  if (inUnit >= rule.least && inUnit <= rule.most) return [];
  const remedy = `write a value between ${rule.least} and ${rule.most} ${rule.unit === "1" ? "" : rule.unit}`.trimEnd();
  return [problem(path, `${value} ${unit === "1" ? "" : unit}`.trimEnd() + absurdity(value, rule), remedy)];
}

function absurdity(value: number, rule: QuantityRule): string {
  return value < 0 && rule.least >= 0 ? " is negative, which this cannot be" : " is outside what a vehicle can have";
}

function checkRange(value: StoredQuantity, path: PathParts): Problem[] {
  const { low, high, from } = value;
  const problems: Problem[] = [];
  if (from === "typical" && low === undefined) problems.push(missingBound("low", path));
  if (from === "typical" && high === undefined) problems.push(missingBound("high", path));
  if (low !== undefined && low > value.value) problems.push(boundOrder("low", low, value.value, path));
  if (high !== undefined && high < value.value) problems.push(boundOrder("high", high, value.value, path));
  return problems;
}

function missingBound(key: string, path: PathParts): Problem {
  return problem(
    [...path, key],
    "missing: a typical value must say its range",
    'write "low" and "high" in the same unit',
  );
}

function boundOrder(key: "low" | "high", bound: number, value: number, path: PathParts): Problem {
  const side = key === "low" ? "above" : "below";
  return problem(
    [...path, key],
    `${bound} is ${side} the value ${value}`,
    "the range must hold the value: low <= value <= high",
  );
}

function checkOption(value: unknown, options: readonly string[], path: PathParts): Problem[] {
  if (typeof value === "string" && options.includes(value)) return [];
  const message = value === undefined ? "missing" : `${shown(value)} is not one of the choices`;
  return [problem(path, message, `write ${oneOf(options.map((option) => `"${option}"`))}`)];
}

function checkAlternatives(raw: Record<string, unknown>, options: readonly string[], path: PathParts): Problem[] {
  const place = [...path, "alternatives"];
  const given = raw.alternatives;
  if (given === undefined) {
    if (raw.from !== "typical") return [];
    return [
      problem(place, "missing: a typical choice must say what else is common", `write a list of ${oneOf(options)}`),
    ];
  }
  if (!Array.isArray(given)) return [problem(place, `${kindOf(given)} stands here`, "write a list of choices")];
  return given.flatMap((item, i) => checkOption(item, options, [...place, i]));
}
