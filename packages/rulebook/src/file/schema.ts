import { type QuantityKind, quantityKinds } from "@brakeyard/units";
import * as z from "zod/mini";
import { stands } from "../text/problem.ts";
import { CONDITIONS, FACTS, SELECTORS } from "../words/keys.ts";
import { THINGS } from "../words/things.ts";
import { dateFindings, finding, identifier, judged, object, text, word } from "./judge.ts";
import { printed } from "./printed.ts";
import { type Amount, amountFindings, requirements } from "./requirements.ts";
import type { Value } from "./value.ts";

/** Newest format version this package reads; it writes no other. */
export const RULEBOOK_VERSION = 1;
export const RULEBOOK_FORMAT = "brakeyard-rulebook";

/** How a reading is held against the figure: `<=` says that the reading must not be above it. */
export type Comparison = "<" | "<=" | ">=" | ">";

/** Whether the figure was read in the source named, or recalled. */
export type Status = "read" | "from memory";

const comparison = () => word<Comparison>("<", "<=", ">=", ">");
const status = () => word<Status>("read", "from memory");
const sourceIds = () => z.array(identifier()).check(z.maxLength(20));
const note = () => z.optional(text(2000));

/** A day, or the words that the copy shows none. */
const dateOrNone = () => judged<string>((raw) => (raw === "not shown" ? [] : dateFindings(raw, [])));

/** Alternatives of which one must hold; an empty list would never hold. */
const alternatives = () => z.array(requirements(FACTS)).check(z.minLength(1), z.maxLength(30));

/** What is read: a listed name, or one of the rulebook's own. */
const thing = () =>
  judged<string>((raw) => {
    const known = typeof raw === "string" && (Object.hasOwn(THINGS, raw) || /^own\.[A-Za-z0-9.-]{1,40}$/.test(raw));
    const remedy = 'write a name of docs/rulebook-file.md, or one of your own: "own." first, and say its "quantity"';
    return known ? [] : [finding([], stands(raw), remedy)];
  });

/** The form is looked at in check.ts, where it is known what kind of quantity it must be. */
const value = () => judged<Value>((raw) => (raw === undefined ? [finding([], "missing", "write the figure")] : []));

const amount = () => judged<Amount>((raw) => amountFindings(raw, undefined, []));

const whole = (least: number, most: number) =>
  judged<number>((raw) => {
    const fine = typeof raw === "number" && raw >= least && raw <= most && Math.floor(raw) === raw;
    return fine ? [] : [finding([], stands(raw), `write a whole number from ${least} to ${most}`)];
  });

const row = object({
  id: identifier(),
  of: z.optional(requirements(SELECTORS)),
  measured: z.optional(requirements(CONDITIONS)),
  appliesTo: z.optional(alternatives()),
  value: value(),
  alsoPrinted: z.optional(amount()),
  beside: z.optional(printed()),
  status: z.optional(status()),
  sources: z.optional(sourceIds()),
  recalled: note(),
  note: note(),
});

const limit = object({
  id: identifier(),
  text: identifier(),
  clause: text(80),
  title: text(200),
  what: thing(),
  quantity: z.optional(word<QuantityKind>(...quantityKinds())),
  comparison: comparison(),
  value: z.optional(value()),
  alsoPrinted: z.optional(amount()),
  rows: z.optional(z.array(row).check(z.minLength(1), z.maxLength(200))),
  of: z.optional(requirements(SELECTORS)),
  measured: z.optional(requirements(CONDITIONS)),
  rounding: z.optional(object({ places: whole(0, 3), unit: text(20) })),
  appliesTo: z.optional(alternatives()),
  set: z.optional(object({ atLeast: whole(1, 1000), of: whole(1, 1000) })),
  beside: z.optional(printed()),
  status: status(),
  sources: z.optional(sourceIds()),
  recalled: note(),
  disputed: note(),
  note: note(),
});

const figureRow = object({
  id: identifier(),
  appliesTo: z.optional(alternatives()),
  values: printed(),
  status: z.optional(status()),
  sources: z.optional(sourceIds()),
  note: note(),
});

const figure = object({
  id: identifier(),
  text: identifier(),
  clause: text(80),
  title: text(200),
  use: word("method", "usual", "definition"),
  appliesTo: z.optional(alternatives()),
  values: z.optional(printed()),
  rows: z.optional(z.array(figureRow).check(z.minLength(1), z.maxLength(200))),
  status: status(),
  sources: z.optional(sourceIds()),
  note: note(),
});

const textOf = object({
  id: identifier(),
  title: text(200),
  edition: text(300),
  date: dateOrNone(),
  appliesTo: z.optional(alternatives()),
  note: note(),
});

const source = object({ id: identifier(), title: text(300), address: text(300) });

/** Schema of a rulebook file, format version 1. What schemas cannot say is in check.ts. */
export const rulebookSchema = object({
  format: z.literal(RULEBOOK_FORMAT),
  version: z.literal(RULEBOOK_VERSION),
  id: identifier(),
  title: text(120),
  jurisdiction: text(120),
  note: note(),
  texts: z.array(textOf).check(z.minLength(1), z.maxLength(50)),
  sources: z.array(source).check(z.maxLength(500)),
  limits: z.array(limit).check(z.maxLength(2000)),
  figures: z.optional(z.array(figure).check(z.maxLength(500))),
});

/** A rulebook file, format version 1, as it stands in JSON. */
export type RulebookFile = z.infer<typeof rulebookSchema>;
export type LimitFile = RulebookFile["limits"][number];
export type RowFile = NonNullable<LimitFile["rows"]>[number];
export type FigureFile = NonNullable<RulebookFile["figures"]>[number];
export type TextFile = RulebookFile["texts"][number];
