export {
  CONFIRMATIONS_FORMAT,
  CONFIRMATIONS_VERSION,
  type Confirmation,
  loadConfirmations,
} from "./confirm.ts";
export { type FigureNumber, figureNumber } from "./figures.ts";
export type { Printed, PrintedFigure } from "./file/printed.ts";
export type { Amount, Bounds, Days, Requirement, Requirements } from "./file/requirements.ts";
export { type Comparison, RULEBOOK_FORMAT, RULEBOOK_VERSION, type RulebookFile, type Status } from "./file/schema.ts";
export type { Value } from "./file/value.ts";
export { type LimitsFor, limitsFor } from "./hold/applies.ts";
export { type Bases, type Bound, boundOf } from "./hold/bound.ts";
export { type Conflict, type ConflictSort, conflicts } from "./hold/conflicts.ts";
export type { Interval, Known } from "./hold/interval.ts";
export { type Conditions, known, type Reading, type Selected, type VehicleFacts } from "./hold/reading.ts";
export { holdSet, unconfirmed, verdictsOn } from "./hold/set.ts";
export { hold, type Outcome, type Reason, type ReasonCode, type Verdict } from "./hold/verdict.ts";
export { loadRulebook } from "./load.ts";
export { type PublishedId, publishedIds, publishedRulebook } from "./published.ts";
export type { Figure, Limit, Rulebook, Source } from "./rulebook.ts";
export { citationText, limitText, verdictText } from "./say.ts";
export { type Loaded, type Problem, problemText } from "./text/problem.ts";
export { LONGEST_TEXT } from "./text/readJson.ts";
export { BASES, CONDITIONS, FACTS, SELECTORS } from "./words/keys.ts";
export type { KeyRule } from "./words/rules.ts";
export { THINGS, type ThingName } from "./words/things.ts";
