import * as z from "zod/mini";
import {
  type Field,
  type Fields,
  inRuleUnit,
  mayBeMissing,
  type NumberField,
  type OpenField,
  type Part,
  type StoredPart,
} from "../parts/part.ts";
import { oneOf, type PathParts, type Problem, problem, shown } from "../text/problem.ts";
import {
  type BareQuantity,
  checkBareQuantity,
  checkChoice,
  checkQuantity,
  type QuantityRule,
  type StoredQuantity,
} from "../values/stored.ts";

/** Marks an issue as ours: message and remedy are already in words. */
interface Worded {
  readonly remedy: string;
}

/** A schema that leaves the judging to a function which says what is wrong in words. */
export function judged<T>(judge: (value: unknown, path: PathParts) => readonly Problem[]): z.ZodMiniType<T> {
  return z.custom<T>().check((payload) => {
    for (const found of judge(payload.value, [])) {
      payload.issues.push({
        code: "custom",
        input: payload.value,
        path: pathOf(found.path),
        message: found.message,
        params: { remedy: found.remedy } satisfies Worded,
      });
    }
  });
}

/** `$.low` or `$.alternatives[0]` back to keys: judged values are never more than two deep and their keys are plain. */
function pathOf(path: string): PropertyKey[] {
  return [...path.matchAll(/[A-Za-z_][A-Za-z0-9_]*|\d+/g)].map(([key]) => (/^\d/.test(key) ? Number(key) : key));
}

/** An object with exactly these keys. */
export function object<S extends Record<string, z.core.$ZodType>>(shape: S): z.ZodMiniObject<S, z.core.$strict> {
  const known = Object.keys(shape);
  return z.strictObject(shape, {
    error: (issue) =>
      issue.code === "unrecognized_keys" ? `keys that may stand here: ${known.join(", ")}` : undefined,
  });
}

function fieldSchema(field: Field): z.core.$ZodType {
  const schema = judged((value, path) =>
    field.type === "choice"
      ? checkChoice(value, field.options, path)
      : checkQuantity(value, field.rule, path, inRuleUnit(field.rule)),
  );
  return mayBeMissing(field) ? z.optional(schema) : schema;
}

/** One number with its history, outside any part. */
export function quantity(field: NumberField | OpenField): z.ZodMiniType<StoredQuantity> {
  return judged((value, path) => checkQuantity(value, field.rule, path, inRuleUnit(field.rule)));
}

/** The values of a part, each optional unless nothing typical is known; `more` are structural keys beside them. */
export function partSchema<F extends Fields, M extends Record<string, z.core.$ZodType>>(kind: Part<F>, more: M) {
  const fields: Record<string, z.core.$ZodType> = {};
  for (const [key, field] of Object.entries(kind.fields)) fields[key] = fieldSchema(field);
  type Values = z.ZodMiniType<StoredPart<F> & z.output<z.ZodMiniObject<M, z.core.$strict>>>;
  return object({ ...fields, ...more }) as unknown as Values;
}

/** The values of a part, all optional even when nothing typical is known: differences from another entry. */
export function partDifferences<F extends Fields>(kind: Part<F>): z.ZodMiniType<Partial<StoredPart<F>>> {
  const fields: Record<string, z.core.$ZodType> = {};
  for (const [key, field] of Object.entries(kind.fields)) fields[key] = z.optional(fieldSchema(field));
  return object(fields) as unknown as z.ZodMiniType<Partial<StoredPart<F>>>;
}

/** A number with a unit and no origin, within bounds. */
export function bare(rule: QuantityRule): z.ZodMiniType<BareQuantity> {
  return judged((value, path) => checkBareQuantity(value, rule, path, inRuleUnit(rule)));
}

/** A name other parts of the file refer to. */
export const identifier = () =>
  judged<string>((value, path) => {
    if (typeof value === "string" && /^[a-z][A-Za-z0-9-]{0,39}$/.test(value)) return [];
    const remedy = "write a short name: a small letter, then letters, figures or dashes, 40 at most";
    return [problem(path, value === undefined ? "missing" : `${shown(value)} cannot be a name`, remedy)];
  });

/** Text of any content, not empty. */
export const words = (longest: number) =>
  judged<string>((value, path) => {
    if (typeof value === "string" && value.trim() !== "" && value.length <= longest) return [];
    const message = value === undefined ? "missing" : `${shown(value)} stands here`;
    return [problem(path, message, `write a text of 1 to ${longest} characters in quotes`)];
  });

/** One of a few words. */
export const choice = <const T extends string>(...options: T[]) =>
  judged<T>((value, path) => {
    if (options.includes(value as T)) return [];
    const message = value === undefined ? "missing" : `${shown(value)} is not one of the choices`;
    return [problem(path, message, `write ${oneOf(options.map((option) => `"${option}"`))}`)];
  });

/** The word `true`; the opposite is said by leaving the key out. */
export const yes = () =>
  judged<true>((value, path) =>
    value === true ? [] : [problem(path, `${shown(value)} stands here`, "write true, or leave the key out")],
  );

/** Everything a schema found wrong, in words. */
export function issuesInWords(issues: readonly z.core.$ZodIssue[]): Problem[] {
  return issues.flatMap((issue) => inWords(issue));
}

function inWords(issue: z.core.$ZodIssue): Problem[] {
  switch (issue.code) {
    case "custom":
      return [
        problem(issue.path, issue.message, (issue.params as Worded | undefined)?.remedy ?? "see docs/vehicle-file.md"),
      ];
    case "unrecognized_keys":
      return issue.keys.map((key) => problem([...issue.path, key], "unknown key", issue.message));
    case "invalid_type":
      return [problem(issue.path, typeMessage(issue.input), `write ${typeWords(issue.expected)}`)];
    case "too_small":
      return [problem(issue.path, "the list is too short", `write at least ${issue.minimum}`)];
    case "too_big":
      return [problem(issue.path, "the list is too long", `write at most ${issue.maximum}`)];
    case "invalid_union":
      return [problem(issue.path, "is not one of the choices", unionRemedy(issue))];
    default:
      return [problem(issue.path, issue.message, "see docs/vehicle-file.md")];
  }
}

function unionRemedy(issue: z.core.$ZodIssueInvalidUnion): string {
  const options = "options" in issue && issue.options ? issue.options.map((option) => `"${String(option)}"`) : [];
  return options.length > 0 ? `write ${oneOf(options)}` : "see docs/vehicle-file.md";
}

function typeMessage(input: unknown): string {
  return input === undefined ? "missing" : `${shown(input)} stands here`;
}

function typeWords(expected: string): string {
  const words: Record<string, string> = {
    object: "an object, {...}",
    array: "a list, [...]",
    string: "a text",
    number: "a number",
  };
  return words[expected] ?? expected;
}
