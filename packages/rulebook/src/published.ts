import manual from "../published/licence-manual.json" with { type: "json" };
import ontario from "../published/ontario.json" with { type: "json" };
import r13 from "../published/un-r13.json" with { type: "json" };
import federal from "../published/us-federal.json" with { type: "json" };
import { loadParsed } from "./load.ts";
import type { Rulebook } from "./rulebook.ts";
import { problemText } from "./text/problem.ts";

const FILES = { "us-federal": federal, "licence-manual": manual, ontario, "un-r13": r13 } as const;

/** Ids of the rulebooks that come with Brakeyard. */
export type PublishedId = keyof typeof FILES;

/** United States federal, the model licence manual, Ontario, UN Regulation 13. */
export const publishedIds = Object.keys(FILES) as readonly PublishedId[];

/**
 * One of the rulebooks that come with Brakeyard, checked as any other file is. The largest takes some tens of milliseconds: keep the
 * result.
 * @throws Error when the file in the package is damaged, which a test rules out
 */
export function publishedRulebook(id: PublishedId): Rulebook {
  const loaded = loadParsed(FILES[id]);
  if (loaded.ok) return loaded.rulebook;
  throw new Error(problemText(loaded.problems));
}
