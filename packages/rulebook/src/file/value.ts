import type { QuantityKind } from "@brakeyard/units";
import { oneOf, type PathParts, shown } from "../text/problem.ts";
import { BASES, type BaseName, kindOfBase } from "../words/keys.ts";
import { type Finding, finding, isObject, numberFindings, objectFindings } from "./judge.ts";
import { type Amount, amountFindings, unitFindings } from "./requirements.ts";

/** The figure of a limit as it stands in the file. */
export type Value = Amount | Multiple | Scaled | Lesser | Greater | BySpeed;

/** `5 x cut-out`. */
export interface Multiple {
  readonly factor: number;
  readonly of: BaseName;
}

/** `25 s x reservoir volume / required reservoir volume`. */
export interface Scaled extends Amount {
  readonly times: BaseName;
  readonly over: BaseName;
}

export interface Lesser {
  readonly lesserOf: readonly Value[];
}

export interface Greater {
  readonly greaterOf: readonly Value[];
}

/**
 * Distance by the speed v at the start: linear x v + v^2 / over. With `percent`, the second term is multiplied by
 * 100 / percent; with `square`, by that number.
 */
export interface BySpeed {
  readonly linear: number;
  readonly over: number;
  readonly square?: number;
  readonly percent?: number;
  /** Unit in which v is put in. */
  readonly speed: string;
  readonly unit: string;
}

const FORMS =
  '{"value": 60, "unit": "psi"}, {"factor": 5, "of": "governorCutOut"}, {"lesserOf": [...]} or another form of docs/rulebook-file.md';

/** What is wrong with the figure of a limit, given the kind of quantity that is limited. */
export function valueFindings(value: unknown, kind: QuantityKind, at: PathParts): Finding[] {
  if (!isObject(value)) return objectFindings(value, [], at, FORMS);
  for (const key of ["lesserOf", "greaterOf"]) if (key in value) return severalFindings(value, key, kind, at);
  if ("factor" in value) return multipleFindings(value, kind, at);
  if ("linear" in value) return bySpeedFindings(value, kind, at);
  if ("times" in value || "over" in value) return scaledFindings(value, kind, at);
  return amountFindings(value, kind, at);
}

function severalFindings(value: Record<string, unknown>, key: string, kind: QuantityKind, at: PathParts): Finding[] {
  const found = objectFindings(value, [key], at, FORMS);
  const list = value[key];
  if (!Array.isArray(list) || list.length < 2)
    return [...found, finding([...at, key], `${shown(list)} stands here`, "write a list of two figures or more")];
  return [...found, ...list.flatMap((one, i) => valueFindings(one, kind, [...at, key, i]))];
}

function multipleFindings(value: Record<string, unknown>, kind: QuantityKind, at: PathParts): Finding[] {
  return [
    ...objectFindings(value, ["factor", "of"], at, FORMS),
    ...positiveFindings(value["factor"], [...at, "factor"]),
    ...baseFindings(value["of"], kind, [...at, "of"]),
  ];
}

function scaledFindings(value: Record<string, unknown>, kind: QuantityKind, at: PathParts): Finding[] {
  const shared = kindOfBase(String(value["times"]));
  return [
    ...objectFindings(value, ["value", "unit", "times", "over"], at, FORMS),
    ...positiveFindings(value["value"], [...at, "value"]),
    ...unitFindings(value["unit"], kind, at),
    ...baseFindings(value["times"], shared, [...at, "times"]),
    ...baseFindings(value["over"], shared, [...at, "over"]),
  ];
}

function bySpeedFindings(value: Record<string, unknown>, kind: QuantityKind, at: PathParts): Finding[] {
  const numbers = ["linear", "over", "square", "percent"].filter((key) => key in value || key === "over");
  const found = objectFindings(value, ["linear", "over", "square", "percent", "speed", "unit"], at, FORMS);
  found.push(...numbers.flatMap((key) => positiveFindings(value[key], [...at, key])));
  found.push(...unitFindings(value["unit"], kind, at));
  const [speed] = unitFindings(value["speed"], "speed", []);
  if (speed) found.push({ ...speed, at: [...at, "speed"] });
  return found;
}

function positiveFindings(value: unknown, at: PathParts): Finding[] {
  const found = numberFindings(value, at);
  if (found.length > 0 || Number(value) > 0) return found;
  return [finding(at, `${shown(value)} is not above zero`, "write a number above zero")];
}

function baseFindings(value: unknown, kind: QuantityKind | undefined, at: PathParts): Finding[] {
  const fitting = Object.keys(BASES).filter((name) => kind === undefined || kindOfBase(name) === kind);
  if (typeof value === "string" && fitting.includes(value)) return [];
  const message = value === undefined ? "missing" : `${shown(value)} is no figure that can stand here`;
  const remedy =
    fitting.length > 0 ? `write ${oneOf(fitting.map((one) => `"${one}"`))}` : "no figure of this kind is known";
  return [finding(at, message, remedy)];
}
