import type { Check, Comparison, Outcome, Source } from "../src/check.ts";
import { near } from "../src/compare.ts";

/** What every practitioner knows and nobody has written a number for. */
const PRACTICE: Source = { text: "what drivers, trainers and mechanics see", seen: "common practice, no source" };

/** One inch in metres, one pound of force in newtons. */
export const IN = 0.0254;
export const LBF = 4.4482216152605;

/** One clause of one of the fourteen statements. */
interface Clause {
  readonly id: string;
  readonly title: string;
  readonly source?: Source;
  /** The statement's clause and the procedure, in words. */
  readonly problem: string;
  /** Vehicle and settings. */
  readonly inputs: readonly string[];
  run(): Outcome;
}

export function clause({ source = PRACTICE, ...rest }: Clause): Check {
  return { ...rest, source, kind: "what an expert will try" };
}

/** psi with one decimal, for lines beside a comparison. */
export function psiText(value: number): string {
  return `${value.toFixed(1)} psi`;
}

export function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}

/** Something that is so or not: 1 for yes. */
export function so(what: string, got: boolean, wanted: boolean, reason: string): Comparison {
  return near({ what, unit: "(1 yes)", got: Number(got), expected: Number(wanted), within: 0.5, reason });
}
