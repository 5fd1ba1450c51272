/**
 * What a check is. A check holds the product against something outside it: a published case, a limit of a standard, a closed form,
 * another solver, or what every practitioner knows. It says where its expectation comes from, and prints how near the product came.
 */

/** How a source was seen. Nothing marked `from memory` is more than a memory: check it against your own copy. */
export type Seen = "read" | "read in part" | "from memory" | "derived" | "common practice, no source";

export interface Source {
  /** Author, year, page or table; the clause of a rule. */
  readonly text: string;
  readonly seen: Seen;
}

/** What a check proves; shown apart, because they are not the same kind of evidence. */
export type Kind =
  | "published case"
  | "standard"
  | "closed form"
  | "integrator only" // agrees with another solver of the same equations: says nothing about the physics
  | "what an expert will try";

/** One figure held against what it should be. */
export interface Comparison {
  readonly what: string;
  readonly unit: string;
  /** As the source prints it. */
  readonly expected: string;
  readonly got: number;
  /** The tolerance and its reason, in words. */
  readonly tolerance: string;
  /** Error over tolerance: 0 is exact, 1 is on the edge, above 1 has failed. */
  readonly margin: number;
  readonly ok: boolean;
  /** Worth a look although it holds: better than a limit by more than half. */
  readonly suspicious?: string;
}

export interface Outcome {
  readonly comparisons: readonly Comparison[];
  /** Figures shown beside the comparison and not judged, with what they mean. */
  readonly beside?: readonly string[];
  /** An honest sentence where product and source part. */
  readonly disagreement?: string;
}

export interface Check {
  /** As the source has it where it has one: P-03, S5.3.3. */
  readonly id: string;
  readonly title: string;
  readonly kind: Kind;
  readonly source: Source;
  /** The problem in words. */
  readonly problem: string;
  /** Inputs with their units. */
  readonly inputs: readonly string[];
  run(): Outcome;
}

export interface CheckResult extends Outcome {
  readonly id: string;
  readonly title: string;
  readonly kind: Kind;
  readonly source: Source;
  readonly problem: string;
  readonly inputs: readonly string[];
  readonly ok: boolean;
  /** Largest margin of its comparisons. */
  readonly margin: number;
  readonly seconds: number;
}

/** A check without a comparison has proved nothing and counts as failed; so has one that throws. */
export function runCheck(check: Check, clock: () => number): CheckResult {
  const { id, title, kind, source, problem, inputs } = check;
  const started = clock();
  const outcome = outcomeOf(check);
  const { comparisons } = outcome;
  const margin = worstOf(comparisons.map((c) => c.margin));
  const ok = comparisons.length > 0 && comparisons.every((c) => c.ok);
  return { id, title, kind, source, problem, inputs, ...outcome, ok, margin, seconds: (clock() - started) / 1000 };
}

function outcomeOf(check: Check): Outcome {
  try {
    return check.run();
  } catch (error) {
    return { comparisons: [], disagreement: `it could not run: ${error instanceof Error ? error.message : error}` };
  }
}

/** The largest; NaN counts as worse than anything. */
export function worstOf(margins: readonly number[]): number {
  return margins.reduce((worst, m) => (Number.isNaN(worst) || m <= worst ? worst : m), 0);
}
