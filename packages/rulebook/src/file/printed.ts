import { hasUnit, type QuantityKind, quantityKinds } from "@brakeyard/units";
import type * as z from "zod/mini";
import { type PathParts, shown } from "../text/problem.ts";
import { type Finding, finding, isObject, judged, numberFindings } from "./judge.ts";
import type { Amount, Bounds } from "./requirements.ts";
import type { Status } from "./schema.ts";

/** Named figures that are printed beside a limit, or make up a figure that limits nothing. */
export type Printed = Readonly<Record<string, PrintedFigure>>;

/** A bare number, words, or a quantity; `status` where it differs from that of the whole. */
export type PrintedFigure = number | string | ((Amount | Bounds) & { readonly status?: Status });

/** Schema of named figures. */
export function printed(): z.ZodMiniType<Printed> {
  return judged<Printed>((raw) => {
    if (!isObject(raw)) return [finding([], raw === undefined ? "missing" : `${shown(raw)} stands here`, EXAMPLE)];
    return Object.entries(raw).flatMap(([key, one]) => figureFindings(one, [key]));
  });
}

const EXAMPLE = 'write named figures, such as {"stops": 10, "speed": {"value": 50, "unit": "mph"}}';
const NUMBERS = ["value", "from", "to", "above", "below"];

function figureFindings(one: unknown, at: PathParts): Finding[] {
  if (typeof one === "string") return [];
  if (!isObject(one)) return numberFindings(one, at);
  const found = Object.keys(one).flatMap((key) => partFindings(one[key], key, [...at, key]));
  if (!NUMBERS.some((key) => key in one)) found.push(finding(at, "there is no number", 'write "value" or bounds'));
  if (!("unit" in one))
    found.push(finding([...at, "unit"], "the unit is missing", 'write a unit in quotes, "1" for none'));
  return found;
}

function partFindings(value: unknown, key: string, at: PathParts): Finding[] {
  if (NUMBERS.includes(key)) return numberFindings(value, at);
  if (key === "unit" && kindOfUnit(value) !== undefined) return [];
  if (key === "status" && (value === "read" || value === "from memory")) return [];
  return [finding(at, `${shown(value)} cannot stand here`, `${EXAMPLE}; a figure may also have "status"`)];
}

/** The first kind of quantity that is written in a unit; undefined for a unit that is not known. */
export function kindOfUnit(unit: unknown): QuantityKind | undefined {
  return typeof unit === "string" ? quantityKinds().find((kind) => hasUnit(kind, unit)) : undefined;
}
