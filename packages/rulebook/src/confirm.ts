import * as z from "zod/mini";
import { dateFindings, identifier, issuesInWords, judged, object, text } from "./file/judge.ts";
import { headProblems } from "./load.ts";
import type { Limit, Rulebook } from "./rulebook.ts";
import { limitText } from "./say.ts";
import { type Loaded, type Problem, problem } from "./text/problem.ts";
import { readJson } from "./text/readJson.ts";

export const CONFIRMATIONS_FORMAT = "brakeyard-confirmations";
export const CONFIRMATIONS_VERSION = 1;

/** Somebody has compared a figure with a copy of their own. */
export interface Confirmation {
  /** Id of the limit. */
  readonly limit: string;
  /** The figure as it was when it was compared, such as `<= 0.55 s`; a figure that has changed since is not confirmed. */
  readonly figure: string;
  readonly who: string;
  /** Year, month or day. */
  readonly when: string;
  /** Which copy: edition, where it lies. */
  readonly copy: string;
}

const day = () => judged<string>((raw) => dateFindings(raw, []));

const schema = object({
  format: z.literal(CONFIRMATIONS_FORMAT),
  version: z.literal(CONFIRMATIONS_VERSION),
  rulebook: identifier(),
  confirmations: z
    .array(object({ limit: text(130), figure: text(300), who: text(120), when: day(), copy: text(300) }))
    .check(z.maxLength(5000)),
});

/**
 * Reads a file of confirmations and attaches them to a rulebook. The rulebook handed over stays as it is. Refused as a whole when one of
 * them is for a limit that is not there, for another figure, or given twice.
 *
 * @param text the file's content
 * @param rulebook the rulebook they are for
 */
export function loadConfirmations(text: string, rulebook: Rulebook): Loaded<"rulebook", Rulebook> {
  const read = readJson(text);
  if ("problem" in read) return { ok: false, problems: [read.problem] };
  const head = headProblems(read.raw, CONFIRMATIONS_FORMAT, CONFIRMATIONS_VERSION);
  if (head.length > 0) return { ok: false, problems: head };
  const parsed = schema.safeParse(read.raw, { reportInput: true, jitless: true });
  if (!parsed.success) return { ok: false, problems: issuesInWords(parsed.error.issues) };
  if (parsed.data.rulebook === rulebook.id) return attach(parsed.data.confirmations, rulebook);
  const message = `these are for the rulebook "${parsed.data.rulebook}", not for "${rulebook.id}"`;
  return { ok: false, problems: [problem(["rulebook"], message, "open the file with the rulebook it names")] };
}

function attach(confirmations: readonly Confirmation[], rulebook: Rulebook): Loaded<"rulebook", Rulebook> {
  const problems = confirmations.flatMap((one, i) => problemsOf(one, i, confirmations, rulebook));
  if (problems.length > 0) return { ok: false, problems };
  const byLimit = new Map(confirmations.map((one) => [one.limit, one]));
  const limits = rulebook.limits.map((limit) => withConfirmation(limit, byLimit.get(limit.id)));
  return { ok: true, rulebook: { ...rulebook, limits } };
}

function withConfirmation(limit: Limit, confirmed: Confirmation | undefined): Limit {
  return confirmed ? { ...limit, confirmed } : limit;
}

function problemsOf(one: Confirmation, i: number, all: readonly Confirmation[], rulebook: Rulebook): Problem[] {
  const at = ["confirmations", i];
  const limit = rulebook.limits.find((other) => other.id === one.limit);
  if (!limit)
    return [problem([...at, "limit"], `"${rulebook.id}" has no limit "${one.limit}"`, "take the id from the rulebook")];
  const found: Problem[] = [];
  if (all.findIndex((other) => other.limit === one.limit) !== i)
    found.push(problem([...at, "limit"], `"${one.limit}" is confirmed twice`, "keep the newer one"));
  const now = limitText(limit);
  if (now !== one.figure) {
    const message = `"${one.figure}" was compared, the rulebook has "${now}"`;
    found.push(problem([...at, "figure"], message, "compare the figure of today with the copy again"));
  }
  return found;
}
