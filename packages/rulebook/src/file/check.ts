import type { QuantityKind } from "@brakeyard/units";
import { type PathParts, type Problem, problem } from "../text/problem.ts";
import { kindOfThing } from "../words/things.ts";
import type { Finding } from "./judge.ts";
import { amountFindings, unitFindings } from "./requirements.ts";
import type { FigureFile, LimitFile, RulebookFile } from "./schema.ts";
import { valueFindings } from "./value.ts";

/** What a schema cannot say: names given twice, references that lead nowhere, units of the wrong kind, figures without a source. */
export function checkRulebook(file: RulebookFile): Problem[] {
  return [
    ...doubles(file.texts, ["texts"]),
    ...doubles(file.sources, ["sources"]),
    ...doubles([...file.limits, ...(file.figures ?? [])], ["limits"]),
    ...file.limits.flatMap((limit, i) => checkLimit(limit, file, ["limits", i])),
    ...(file.figures ?? []).flatMap((figure, i) => checkFigure(figure, file, ["figures", i])),
  ];
}

function doubles(list: readonly { readonly id: string }[], at: PathParts): Problem[] {
  return list.flatMap((one, i) => {
    if (list.findIndex((other) => other.id === one.id) === i) return [];
    return [
      problem(
        [...at, i, "id"],
        `"${one.id}" stands twice`,
        "every limit, figure, text, source and row has a name of its own",
      ),
    ];
  });
}

function checkLimit(limit: LimitFile, file: RulebookFile, at: PathParts): Problem[] {
  const found = [...checkText(limit.text, file, at), ...checkShape(limit, at), ...checkRows(limit, file, at)];
  const kind = kindOfThing(limit.what) ?? limit.quantity;
  if (kind === undefined)
    return [...found, problem([...at, "quantity"], "missing", 'say what kind of quantity it is, such as "pressure"')];
  return [...found, ...checkUnits(limit, kind, at)];
}

/** One figure or rows of them, and no quantity said twice. */
function checkShape(limit: LimitFile, at: PathParts): Problem[] {
  const found: Problem[] = [];
  if ((limit.value === undefined) === (limit.rows === undefined)) {
    const message = limit.value === undefined ? "neither a figure nor rows" : "a figure and rows";
    found.push(problem(at, message, 'write "value" for one figure or "rows" for several'));
  }
  if (limit.quantity !== undefined && kindOfThing(limit.what) !== undefined)
    found.push(problem([...at, "quantity"], "the kind of a listed thing is known", "leave the key out"));
  if (limit.set && limit.set.atLeast > limit.set.of)
    found.push(problem([...at, "set", "atLeast"], `more than ${limit.set.of}`, `write ${limit.set.of} or less`));
  return found;
}

function checkRows(limit: LimitFile, file: RulebookFile, at: PathParts): Problem[] {
  const rows = limit.rows ?? [];
  const found = [...checkSources(limit, rows.length === 0, file, at), ...doubles(rows, [...at, "rows"])];
  rows.forEach((row, i) => {
    const whole = { status: row.status ?? limit.status, sources: row.sources ?? limit.sources };
    found.push(...checkSources(whole, true, file, [...at, "rows", i]));
  });
  return found;
}

function checkUnits(limit: LimitFile, kind: QuantityKind, at: PathParts): Problem[] {
  const found: Finding[] = limit.value === undefined ? [] : valueFindings(limit.value, kind, ["value"]);
  if (limit.alsoPrinted) found.push(...amountFindings(limit.alsoPrinted, kind, ["alsoPrinted"]));
  if (limit.rounding) found.push(...unitFindings(limit.rounding.unit, kind, ["rounding"]));
  limit.rows?.forEach((row, i) => {
    found.push(...valueFindings(row.value, kind, ["rows", i, "value"]));
    if (row.alsoPrinted) found.push(...amountFindings(row.alsoPrinted, kind, ["rows", i, "alsoPrinted"]));
  });
  return found.map((one) => problem([...at, ...one.at], one.message, one.remedy));
}

function checkFigure(figure: FigureFile, file: RulebookFile, at: PathParts): Problem[] {
  const found = [...checkText(figure.text, file, at), ...checkSources(figure, figure.rows === undefined, file, at)];
  if ((figure.values === undefined) === (figure.rows === undefined))
    found.push(problem(at, "it must have values or rows, not both", 'write "values" for one row, "rows" for several'));
  found.push(...doubles(figure.rows ?? [], [...at, "rows"]));
  figure.rows?.forEach((row, i) => {
    const whole = { status: row.status ?? figure.status, sources: row.sources ?? figure.sources };
    found.push(...checkSources(whole, true, file, [...at, "rows", i]));
  });
  return found;
}

function checkText(id: string, file: RulebookFile, at: PathParts): Problem[] {
  if (file.texts.some((one) => one.id === id)) return [];
  const known = file.texts.map((one) => `"${one.id}"`).join(", ");
  return [problem([...at, "text"], `no text is called "${id}"`, `write one of ${known}, or add it to "texts"`)];
}

interface Sourced {
  readonly status: string;
  readonly sources?: readonly string[] | undefined;
}

/** Sources named must be listed; what was read must say where. */
function checkSources(one: Sourced, needed: boolean, file: RulebookFile, at: PathParts): Problem[] {
  const known = file.sources.map((source) => source.id);
  const found = (one.sources ?? []).flatMap((id, i) =>
    known.includes(id) ? [] : [problem([...at, "sources", i], `no source is called "${id}"`, 'add it to "sources"')],
  );
  if (needed && one.status === "read" && (one.sources ?? []).length === 0)
    found.push(
      problem(
        [...at, "sources"],
        "it is said to have been read, but not where",
        'name the source, or write "from memory"',
      ),
    );
  return found;
}
