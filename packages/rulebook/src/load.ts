import { checkRulebook } from "./file/check.ts";
import { expand } from "./file/expand.ts";
import { isObject, issuesInWords } from "./file/judge.ts";
import { RULEBOOK_FORMAT, RULEBOOK_VERSION, rulebookSchema } from "./file/schema.ts";
import type { Rulebook } from "./rulebook.ts";
import { type Loaded, type Problem, problem, shown, stands } from "./text/problem.ts";
import { readJson } from "./text/readJson.ts";

/**
 * Reads a rulebook file: accepts it whole or refuses it with everything found wrong, each with its place and its remedy.
 * Nothing is repaired.
 *
 * @param text the file's content
 * @returns the rulebook, its tables taken apart into one limit for every row, or the problems
 */
export function loadRulebook(text: string): Loaded<"rulebook", Rulebook> {
  const read = readJson(text);
  return "problem" in read ? { ok: false, problems: [read.problem] } : loadParsed(read.raw);
}

/** The same for JSON that is parsed already, without double keys, as files in the package are. */
export function loadParsed(raw: unknown): Loaded<"rulebook", Rulebook> {
  const head = headProblems(raw, RULEBOOK_FORMAT, RULEBOOK_VERSION);
  if (head.length > 0) return { ok: false, problems: head };
  const parsed = rulebookSchema.safeParse(raw, { reportInput: true, jitless: true });
  if (!parsed.success) return { ok: false, problems: issuesInWords(parsed.error.issues) };
  const problems = checkRulebook(parsed.data);
  return problems.length > 0 ? { ok: false, problems } : { ok: true, rulebook: expand(parsed.data) };
}

/** What is wrong with `format` and `version`; the rest of a file is looked at only when these are right. */
export function headProblems(raw: unknown, format: string, newest: number): Problem[] {
  if (!isObject(raw)) return [problem([], `the file holds ${shown(raw)}`, "the file must be one JSON object, {...}")];
  if (raw["format"] !== format)
    return [problem(["format"], stands(raw["format"]), `the file must begin with "format": "${format}"`)];
  const version = raw["version"];
  if (typeof version !== "number" || !(version >= 1) || Math.floor(version) !== version)
    return [problem(["version"], stands(version), `write the format version as a whole number, 1 to ${newest}`)];
  if (version <= newest) return [];
  const message = `this file has format version ${version}; this Brakeyard reads up to ${newest}`;
  return [problem(["version"], message, "open it with a newer Brakeyard")];
}
