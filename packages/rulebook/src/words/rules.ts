import type { QuantityKind } from "@brakeyard/units";

/** How a key of a rulebook is written and compared. */
export type KeyRule =
  | { readonly type: "choice"; readonly options: readonly string[]; readonly says: string }
  /** Anything between two bounds: `{"from": 80, "to": 90, "unit": "psi"}`. */
  | { readonly type: "range"; readonly kind: QuantityKind; readonly says: string }
  /** One figure that names a row of a table, such as the speed from which a stop is to begin. */
  | { readonly type: "nominal"; readonly kind: QuantityKind; readonly says: string }
  /** A whole number, or bounds for one: `8` or `{"from": 3}`. */
  | { readonly type: "count"; readonly says: string }
  | { readonly type: "flag"; readonly says: string }
  /** A day of building: `{"from": "2011-08-01", "before": "2013-08-01"}`. */
  | { readonly type: "date"; readonly says: string }
  /** A name, compared letter by letter. */
  | { readonly type: "name"; readonly says: string }
  /** Words that no program can check: somebody must vouch for them. */
  | { readonly type: "words"; readonly says: string };

/** Rules by key. */
export type KeyRules = Readonly<Record<string, KeyRule>>;

/** One of a few words. */
export function choice(says: string, ...options: string[]): KeyRule {
  return { type: "choice", options, says };
}

/** A quantity between bounds. */
export function range(kind: QuantityKind, says: string): KeyRule {
  return { type: "range", kind, says };
}

/** A quantity that names a row. */
export function nominal(kind: QuantityKind, says: string): KeyRule {
  return { type: "nominal", kind, says };
}

/** A whole number. */
export function count(says: string): KeyRule {
  return { type: "count", says };
}

/** True or false. */
export function flag(says: string): KeyRule {
  return { type: "flag", says };
}

/** A day. */
export function date(says: string): KeyRule {
  return { type: "date", says };
}

/** A name. */
export function name(says: string): KeyRule {
  return { type: "name", says };
}

/** Words. */
export function words(says: string): KeyRule {
  return { type: "words", says };
}
