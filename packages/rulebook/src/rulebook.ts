import type { QuantityKind } from "@brakeyard/units";
import type { Confirmation } from "./confirm.ts";
import type { Printed } from "./file/printed.ts";
import type { Amount, Requirements } from "./file/requirements.ts";
import type { Comparison, FigureFile, LimitFile, RulebookFile, Status } from "./file/schema.ts";
import type { Value } from "./file/value.ts";
import type { ThingName } from "./words/things.ts";

/** Where a figure was read, or was also met. */
export interface Source {
  readonly id: string;
  readonly title: string;
  readonly address: string;
}

/** The text a limit stands in. */
export interface Cited {
  /** Id of the rulebook. */
  readonly rulebook: string;
  readonly jurisdiction: string;
  /** Title of the text, such as `49 CFR 571.121`. */
  readonly text: string;
  readonly edition: string;
  /** Year, month or day of that edition, or `not shown`. */
  readonly date: string;
  readonly clause: string;
  readonly title: string;
  readonly status: Status;
  readonly sources: readonly Source[];
  readonly note?: string;
  /** What is to be said of the whole text. */
  readonly textNote?: string;
}

/** One published limit with everything that belongs to it: one row of its table where it comes from a table. */
export interface Limit extends Cited {
  /** Unique within the rulebook; a row of a table has the limit's id, a slash and its own. */
  readonly id: string;
  readonly what: ThingName;
  readonly quantity: QuantityKind;
  readonly comparison: Comparison;
  readonly value: Value;
  /** The same limit as the text prints it in another unit, rounded. Between the two nothing is decided. */
  readonly alsoPrinted?: Amount;
  /** Which thing exactly is limited. */
  readonly of: Requirements;
  /** Conditions under which the reading must be taken. */
  readonly measured: Requirements;
  /** How the reading is rounded before it is held against the figure: halves go up. */
  readonly rounding?: { readonly places: number; readonly unit: string };
  /** Groups of alternatives: of every group one must hold. No group: it applies to all. */
  readonly appliesTo: readonly (readonly Requirements[])[];
  /** How many of how many readings must keep the limit; without it all must. */
  readonly set?: { readonly atLeast: number; readonly of: number };
  readonly beside: Printed;
  /** What besides the figure is from memory, where the figure itself was read: a condition, a day. */
  readonly recalled?: string;
  /** Why the sources leave it open whether this limit stands; no reading is then held against it. */
  readonly disputed?: string;
  /** Who has compared the figure with a copy of their own. */
  readonly confirmed?: Confirmation;
}

/** A published figure that limits nothing: how a test is run, what is usual, what a word means. */
export interface Figure extends Cited {
  readonly id: string;
  readonly use: "method" | "usual" | "definition";
  readonly values: Printed;
  readonly appliesTo: readonly (readonly Requirements[])[];
}

/** Published limits of one jurisdiction. */
export interface Rulebook {
  readonly id: string;
  readonly title: string;
  readonly jurisdiction: string;
  readonly note?: string;
  readonly limits: readonly Limit[];
  readonly figures: readonly Figure[];
  readonly sources: readonly Source[];
}

export type { FigureFile, LimitFile, RulebookFile };
