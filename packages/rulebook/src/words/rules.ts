import type { QuantityKind } from "@brakeyard/units";

/** One of a few words. */
export interface ChoiceRule<T extends string = string> {
  readonly type: "choice";
  readonly options: readonly T[];
  readonly says: string;
}

/** Anything between two bounds: `{"from": 80, "to": 90, "unit": "psi"}`. */
export interface RangeRule {
  readonly type: "range";
  readonly kind: QuantityKind;
  readonly says: string;
}

/** One figure that names a row of a table, such as the speed from which a stop is to begin. */
export interface NominalRule {
  readonly type: "nominal";
  readonly kind: QuantityKind;
  readonly says: string;
}

/** A rule that needs nothing but its type. */
export interface PlainRule<T extends string> {
  readonly type: T;
  readonly says: string;
}

/** A whole number, or bounds for one: `8` or `{"from": 3}`. */
export type CountRule = PlainRule<"count">;
export type FlagRule = PlainRule<"flag">;
/** A day of building: `{"from": "2011-08-01", "before": "2013-08-01"}`. */
export type DateRule = PlainRule<"date">;
/** A name, compared letter by letter. */
export type NameRule = PlainRule<"name">;
/** Words that no program can check: somebody must vouch for them. */
export type WordsRule = PlainRule<"words">;

/** How a key of a rulebook is written and compared. */
export type KeyRule = ChoiceRule | RangeRule | NominalRule | CountRule | FlagRule | DateRule | NameRule | WordsRule;

/** Rules by key. */
export type KeyRules = Readonly<Record<string, KeyRule>>;

/** One of a few words. */
export function choice<const T extends string>(says: string, ...options: T[]): ChoiceRule<T> {
  return { type: "choice", options, says };
}

/** A quantity between bounds. */
export function range(kind: QuantityKind, says: string): RangeRule {
  return { type: "range", kind, says };
}

/** A quantity that names a row. */
export function nominal(kind: QuantityKind, says: string): NominalRule {
  return { type: "nominal", kind, says };
}

/** A whole number. */
export function count(says: string): CountRule {
  return { type: "count", says };
}

/** True or false. */
export function flag(says: string): FlagRule {
  return { type: "flag", says };
}

/** A day. */
export function date(says: string): DateRule {
  return { type: "date", says };
}

/** A name. */
export function name(says: string): NameRule {
  return { type: "name", says };
}

/** Words. */
export function words(says: string): WordsRule {
  return { type: "words", says };
}
