import * as z from "zod/mini";
import { oneOf, type PathParts, type Problem, problem, shown, stands } from "../text/problem.ts";

const PAGE = "see docs/rulebook-file.md";

/** One thing found wrong inside a value: where in it, what, and what would be right. */
export interface Finding {
  readonly at: PathParts;
  readonly message: string;
  readonly remedy: string;
}

/** A finding. */
export function finding(at: PathParts, message: string, remedy: string): Finding {
  return { at, message, remedy };
}

/** A schema that leaves the judging to a function which says what is wrong in words. */
export function judged<T>(judge: (value: unknown) => readonly Finding[]): z.ZodMiniType<T> {
  return z.custom<T>().check((payload) => {
    for (const { at, message, remedy } of judge(payload.value))
      payload.issues.push({ code: "custom", input: payload.value, path: [...at], message, params: { remedy } });
  });
}

/** An object with exactly these keys. */
export function object<S extends Record<string, z.core.$ZodType>>(shape: S): z.ZodMiniObject<S, z.core.$strict> {
  const known = Object.keys(shape);
  return z.strictObject(shape, {
    error: (issue) =>
      issue.code === "unrecognized_keys" ? `keys that may stand here: ${known.join(", ")}` : undefined,
  });
}

/** Text of any content, not empty. */
export const text = (longest: number) =>
  judged<string>((value) => {
    if (typeof value === "string" && value.trim() !== "" && value.length <= longest) return [];
    return [finding([], stands(value), `write a text of 1 to ${longest} characters in quotes`)];
  });

/** A short name other parts of the file refer to. */
export const identifier = () =>
  judged<string>((value) => {
    if (typeof value === "string" && /^[A-Za-z0-9][A-Za-z0-9.-]{0,59}$/.test(value)) return [];
    const remedy = "write a short name: letters, figures, dots or dashes, 60 at most";
    return [finding([], value === undefined ? "missing" : `${shown(value)} cannot be a name`, remedy)];
  });

/** What is wrong with one of a few words. */
export function wordFindings(value: unknown, options: readonly string[], at: PathParts = []): Finding[] {
  if (typeof value === "string" && options.includes(value)) return [];
  const message = value === undefined ? "missing" : `${shown(value)} is not one of the choices`;
  return [finding(at, message, `write ${oneOf(options.map((option) => `"${option}"`))}`)];
}

/** One of a few words. */
export const word = <const T extends string>(...options: T[]) => judged<T>((value) => wordFindings(value, options));

/** Keys of an object that may not stand there; or that it is none. */
export function objectFindings(value: unknown, keys: readonly string[], at: PathParts, example: string): Finding[] {
  if (!isObject(value)) return [finding(at, stands(value), `write ${example}`)];
  const unknown = Object.keys(value).filter((key) => !keys.includes(key));
  return unknown.map((key) => finding([...at, key], "unknown key", `keys that may stand here: ${keys.join(", ")}`));
}

/** Whether a JSON value is an object and no list. */
export function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** What is wrong with a number. */
export function numberFindings(value: unknown, at: PathParts): Finding[] {
  if (typeof value === "number" && Number.isFinite(value)) return [];
  const message = value === undefined ? "missing" : `${shown(value)} is not a number`;
  return [finding(at, message, "write a number without quotes")];
}

const DAY = /^(19|20)\d\d(-(0[1-9]|1[0-2])(-(0[1-9]|[12]\d|3[01]))?)?$/;

/** Whether a text is a year, a month or a day. */
export function isDate(value: unknown): value is string {
  return typeof value === "string" && DAY.test(value);
}

/** What is wrong with a date. */
export function dateFindings(value: unknown, at: PathParts): Finding[] {
  if (isDate(value)) return [];
  const message = value === undefined ? "missing" : `${shown(value)} is not a date`;
  return [finding(at, message, 'write "2016", "2016-05" or "2016-05-14"')];
}

/** Everything a schema found wrong, in words. */
export function issuesInWords(issues: readonly z.core.$ZodIssue[]): Problem[] {
  return issues.flatMap(inWords);
}

function inWords(issue: z.core.$ZodIssue): Problem[] {
  switch (issue.code) {
    case "custom":
      return [problem(issue.path, issue.message, String(issue.params?.["remedy"] ?? PAGE))];
    case "unrecognized_keys":
      return issue.keys.map((key) => problem([...issue.path, key], "unknown key", issue.message));
    case "invalid_type":
      return [problem(issue.path, stands(issue.input), `write ${typeWords(issue.expected)}`)];
    case "too_small":
      return [problem(issue.path, "the list is too short", `write at least ${issue.minimum}`)];
    case "too_big":
      return [problem(issue.path, "the list is too long", `write at most ${issue.maximum}`)];
    default:
      return [problem(issue.path, issue.message, PAGE)];
  }
}

function typeWords(expected: string): string {
  const words: Record<string, string> = { object: "an object, {...}", array: "a list, [...]" };
  return words[expected] ?? expected;
}
