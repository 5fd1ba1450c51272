import { type QuantityKind, toSi } from "@brakeyard/units";
import type { Origin, StoredChoice, StoredQuantity } from "./stored.ts";

/** Which generic part supplied a value, and what that rests on. */
export interface Generic {
  /** Part and key, such as `governor.cutOut`. */
  readonly part: string;
  /** Published source, or `common practice, no source`. */
  readonly source: string;
}

/** A number ready for the model, with its history. */
export interface Quantity {
  readonly kind: QuantityKind;
  /** In SI (pressures gauge, turning speeds in rpm). */
  readonly si: number;
  /** As written, in `unit`. */
  readonly written: number;
  readonly unit: string;
  readonly from: Origin;
  /** Bounds in SI; always there when `from` is `typical`. */
  readonly low?: number;
  readonly high?: number;
  /** Set when the value does not stand in the file but in a generic part. */
  readonly generic?: Generic;
  readonly note?: string;
  /** The value as a file holds it. */
  readonly stored: StoredQuantity;
}

/** A choice ready for the model, with its history. */
export interface Choice<T extends string = string> {
  readonly value: T;
  readonly from: Origin;
  readonly alternatives: readonly T[];
  readonly generic?: Generic;
  readonly note?: string;
  /** The choice as a file holds it. */
  readonly stored: StoredChoice<T>;
}

/** A number as stored, in SI with its history. */
export function resolveQuantity(kind: QuantityKind, stored: StoredQuantity, generic?: Generic): Quantity {
  const { value, unit, from, low, high, note } = stored;
  return {
    kind,
    si: toSi(kind, value, unit),
    written: value,
    unit,
    from,
    ...(low !== undefined && { low: toSi(kind, low, unit) }),
    ...(high !== undefined && { high: toSi(kind, high, unit) }),
    ...(generic && { generic }),
    ...(note !== undefined && { note }),
    stored,
  };
}

/** A choice as stored, with its history. */
export function resolveChoice<T extends string>(stored: StoredChoice<T>, generic?: Generic): Choice<T> {
  const { value, from, alternatives = [], note } = stored;
  return { value, from, alternatives, ...(generic && { generic }), ...(note !== undefined && { note }), stored };
}

/** As a file holds it; the source of a generic value becomes its note. */
export function storeQuantity({ stored, generic }: Quantity): StoredQuantity {
  return generic && stored.note === undefined ? { ...stored, note: generic.source } : stored;
}

/** As a file holds it; the source of a generic choice becomes its note. */
export function storeChoice<T extends string>({ stored, generic }: Choice<T>): StoredChoice<T> {
  return generic && stored.note === undefined ? { ...stored, note: generic.source } : stored;
}
