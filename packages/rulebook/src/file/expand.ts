import type { QuantityKind } from "@brakeyard/units";
import type { Cited, Figure, Limit, Rulebook, Source } from "../rulebook.ts";
import { kindOfThing, type ThingName } from "../words/things.ts";
import type { Requirements } from "./requirements.ts";
import type { FigureFile, LimitFile, RowFile, RulebookFile, Status, TextFile } from "./schema.ts";
import type { Value } from "./value.ts";

/** A checked file as a rulebook: one limit for every row, each with all its fields. */
export function expand(file: RulebookFile): Rulebook {
  return {
    id: file.id,
    title: file.title,
    jurisdiction: file.jurisdiction,
    ...(file.note === undefined ? {} : { note: file.note }),
    limits: file.limits.flatMap((limit) => limitsOf(limit, file)),
    figures: (file.figures ?? []).flatMap((figure) => figuresOf(figure, file)),
    sources: file.sources,
  };
}

function limitsOf(limit: LimitFile, file: RulebookFile): Limit[] {
  if (!limit.rows) return [limitOf(limit, {}, limit.value as Value, file)];
  return limit.rows.map((row) => limitOf(limit, row, row.value, file));
}

/** A row's `of` and `measured` add to the limit's; everything else of a row takes the place of the limit's. */
function limitOf(limit: LimitFile, row: Partial<RowFile>, value: Value, file: RulebookFile): Limit {
  const text = textOf(limit.text, file);
  const whole = { ...limit, ...row };
  return {
    ...cited(whole, limit, text, file),
    id: row.id === undefined ? limit.id : `${limit.id}/${row.id}`,
    what: limit.what as ThingName,
    quantity: (kindOfThing(limit.what) ?? limit.quantity) as QuantityKind,
    comparison: limit.comparison,
    value,
    of: { ...limit.of, ...row.of },
    measured: { ...limit.measured, ...row.measured },
    appliesTo: groups(text, whole.appliesTo),
    beside: { ...limit.beside, ...row.beside },
    ...(whole.alsoPrinted && { alsoPrinted: whole.alsoPrinted }),
    ...(limit.rounding && { rounding: limit.rounding }),
    ...(limit.set && { set: limit.set }),
    ...(whole.recalled !== undefined && { recalled: whole.recalled }),
    ...(limit.disputed !== undefined && { disputed: limit.disputed }),
  };
}

function figuresOf(figure: FigureFile, file: RulebookFile): Figure[] {
  const text = textOf(figure.text, file);
  return (figure.rows ?? [undefined]).map((row) => {
    const whole = { ...figure, ...row };
    return {
      ...cited(whole, figure, text, file),
      id: row ? `${figure.id}/${row.id}` : figure.id,
      use: figure.use,
      values: whole.values ?? {},
      appliesTo: groups(text, whole.appliesTo),
    };
  });
}

function textOf(id: string, file: RulebookFile): TextFile {
  return file.texts.find((text) => text.id === id) as TextFile;
}

function groups(text: TextFile, own: readonly Requirements[] | undefined): readonly (readonly Requirements[])[] {
  return [text.appliesTo, own].filter((group) => group !== undefined);
}

interface Marked {
  readonly status: Status;
  readonly sources?: readonly string[] | undefined;
  readonly note?: string | undefined;
}

function cited(marked: Marked, named: LimitFile | FigureFile, text: TextFile, file: RulebookFile): Cited {
  return {
    rulebook: file.id,
    jurisdiction: file.jurisdiction,
    text: text.title,
    edition: text.edition,
    date: text.date,
    clause: named.clause,
    title: named.title,
    status: marked.status,
    sources: (marked.sources ?? []).map((id) => file.sources.find((one) => one.id === id) as Source),
    ...(marked.note !== undefined && { note: marked.note }),
    ...(text.note !== undefined && { textNote: text.note }),
  };
}
