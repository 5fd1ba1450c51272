import { fromSi, type QuantityKind, toSi } from "@brakeyard/units";
import { type Choice, type Quantity, resolveChoice, resolveQuantity } from "../values/resolved.ts";
import type { QuantityRule, StoredChoice, StoredQuantity } from "../values/stored.ts";

/** What a fact without a published source says of itself. */
export const PRACTICE = "common practice, no source";

/** Typical number with its range, in the unit of its field. */
export interface TypicalNumber {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

/** Typical choice and what else is common. */
export interface TypicalChoice<T extends string = string> {
  readonly value: T;
  readonly alternatives: readonly T[];
  readonly source: string;
}

/** A number that belongs to a part. Without `typical` the file must give it. */
export interface NumberField {
  readonly type: "number";
  readonly label: string;
  readonly rule: QuantityRule;
  readonly typical?: TypicalNumber;
}

/** A choice that belongs to a part. Without `typical` the file must give it. */
export interface ChoiceField<T extends string = string> {
  readonly type: "choice";
  readonly label: string;
  readonly options: readonly T[];
  readonly typical?: TypicalChoice<T>;
}

/** A number that the model does not need and that has no typical value. */
export interface OpenField {
  readonly type: "open";
  readonly label: string;
  readonly rule: QuantityRule;
}

/** Marks a field that no generic part can supply. */
export interface Needed {
  readonly needed: true;
}

export type Field = NumberField | ChoiceField | OpenField;
export type Fields = Readonly<Record<string, Field>>;

/** A kind of part: its name and its values. Schema, completion and documentation all come from here. */
export interface Part<F extends Fields = Fields> {
  readonly id: string;
  readonly fields: F;
}

/** Field as it may stand in a file. */
export type StoredField<F> =
  F extends ChoiceField<infer T> ? StoredChoice<T> : F extends NumberField | OpenField ? StoredQuantity : never;
type NeededKeys<F extends Fields> = { [K in keyof F]: F[K] extends Needed ? K : never }[keyof F];
/** Part as it may stand in a file: needed values must stand there, the rest may be typical. */
export type StoredPart<F extends Fields> = { readonly [K in NeededKeys<F>]: StoredField<F[K]> } & {
  readonly [K in Exclude<keyof F, NeededKeys<F>>]?: StoredField<F[K]>;
};
/** Field ready for the model. */
export type FilledField<F> =
  F extends ChoiceField<infer T>
    ? Choice<T>
    : F extends NumberField
      ? Quantity
      : F extends OpenField
        ? Quantity | undefined
        : never;
/** Part ready for the model. */
export type FilledPart<F extends Fields> = { readonly [K in keyof F]: FilledField<F[K]> };
/** The stored and filled forms of a part, by the part's own type. */
export type StoredOf<P> = P extends Part<infer F> ? StoredPart<F> : never;
export type FilledOf<P> = P extends Part<infer F> ? FilledPart<F> : never;

/** Typical values that depend on the vehicle at hand (chamber type, place of the axle) and replace those of the part. */
export type Variants<F extends Fields> = {
  readonly [K in keyof F]?: F[K] extends ChoiceField<infer T> ? TypicalChoice<T> : TypicalNumber;
};

export function part<F extends Fields>(id: string, fields: F): Part<F> {
  return { id, fields };
}

/**
 * A number with a typical value.
 * @param bounds least and most that is not absurd, in `unit`
 * @param typical value, low, high in `unit`
 */
export function typical(
  label: string,
  kind: QuantityKind,
  unit: string,
  bounds: readonly [number, number],
  [value, low, high]: readonly [number, number, number],
  source: string = PRACTICE,
): NumberField {
  const rule = { kind, unit, least: bounds[0], most: bounds[1] };
  return { type: "number", label, rule, typical: { value, low, high, source } };
}

/** A number that no generic part can supply. */
export function needed(
  label: string,
  kind: QuantityKind,
  unit: string,
  bounds: readonly [number, number],
): NumberField & Needed {
  return { type: "number", label, rule: { kind, unit, least: bounds[0], most: bounds[1] }, needed: true };
}

/** A choice, its first option typical. */
export function typicalChoice<const T extends string>(
  label: string,
  options: readonly [T, ...T[]],
  source: string = PRACTICE,
): ChoiceField<T> {
  const [value, ...alternatives] = options;
  return { type: "choice", label, options, typical: { value, alternatives, source } };
}

/** A choice that no generic part can make. */
export function neededChoice<const T extends string>(label: string, options: readonly T[]): ChoiceField<T> & Needed {
  return { type: "choice", label, options, needed: true };
}

/** A number that may be left out, without a typical value in its place. */
export function open(label: string, kind: QuantityKind, unit: string, bounds: readonly [number, number]): OpenField {
  return { type: "open", label, rule: { kind, unit, least: bounds[0], most: bounds[1] } };
}

/** Whether a file may leave this field out. */
export function mayBeMissing(field: Field): boolean {
  return field.type === "open" || field.typical !== undefined;
}

/**
 * A part as the file gives it, the rest typical.
 * @throws Error when a needed field is missing, which the schema has refused before
 */
export function fillPart<F extends Fields>(
  kind: Part<F>,
  given: Partial<StoredPart<F>> = {},
  variants: Variants<F> = {},
): FilledPart<F> {
  const filled: Record<string, Quantity | Choice | undefined> = {};
  for (const key of Object.keys(kind.fields)) {
    const field = kind.fields[key] as Field;
    filled[key] = fillField(
      `${kind.id}.${key}`,
      field,
      (given as Record<string, Stored | undefined>)[key],
      variants[key] as Typical | undefined,
    );
  }
  return filled as FilledPart<F>;
}

type Stored = StoredQuantity | StoredChoice;
type Typical = TypicalNumber | TypicalChoice;

function fillField(id: string, field: Field, stored?: Stored, variant?: Typical): Quantity | Choice | undefined {
  if (field.type === "open") return stored && resolveQuantity(field.rule.kind, stored as StoredQuantity);
  const typicalOf = variant ?? field.typical;
  if (!stored && !typicalOf) throw new Error(`${id} has no typical value and was not given`);
  const generic = typicalOf && { part: id, source: typicalOf.source };
  if (field.type === "choice") {
    if (stored) return resolveChoice(stored as StoredChoice);
    const { value, alternatives } = typicalOf as TypicalChoice;
    return resolveChoice({ value, alternatives, from: "typical" }, generic);
  }
  if (stored) return resolveQuantity(field.rule.kind, stored as StoredQuantity);
  const { value, low, high } = typicalOf as TypicalNumber;
  return resolveQuantity(field.rule.kind, { value, low, high, unit: field.rule.unit, from: "typical" }, generic);
}

/** A written number in the unit of a rule. */
export function inRuleUnit(rule: QuantityRule): (value: number, unit: string) => number {
  return (value, unit) => fromSi(rule.kind, toSi(rule.kind, value, unit), rule.unit);
}
