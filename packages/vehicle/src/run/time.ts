import { TICK_S } from "@brakeyard/engine";
import { type PathParts, type Problem, problem, shown } from "../text/problem.ts";

/** Longest run: a week. */
export const LONGEST_RUN_S = 7 * 24 * 3600;

/** Ticks in a second. */
export const TICKS_PER_S = 100;

/**
 * Whole ticks in a time written in seconds, or null when it is not a whole number of them. 0.07 s is 7 ticks although 0.07 x 100
 * is not quite 7 in binary: what counts is the decimal number as written, good to a millionth of a tick.
 */
export function wholeTicks(seconds: number): number | null {
  const ticks = Math.floor(seconds * TICKS_PER_S + 0.5);
  return Math.abs(seconds * TICKS_PER_S - ticks) <= 1e-6 ? ticks : null;
}

/** What is wrong with a time in seconds. */
export function checkSeconds(value: unknown, path: PathParts, least = 0): Problem[] {
  const remedy = `write seconds from ${least} to ${LONGEST_RUN_S}, a whole number of ${TICK_S} s ticks`;
  if (value === undefined) return [problem(path, "missing", remedy)];
  if (typeof value !== "number" || !Number.isFinite(value))
    return [problem(path, `${shown(value)} is not a time`, remedy)];
  if (!(value >= least && value <= LONGEST_RUN_S)) return [problem(path, `${value} s is out of range`, remedy)];
  if (wholeTicks(value) === null) return [problem(path, `${value} s is not a whole number of 10 ms ticks`, remedy)];
  return [];
}

/** What is wrong with a time in ticks. */
export function checkTicks(value: unknown, path: PathParts, least = 0): Problem[] {
  const most = LONGEST_RUN_S * TICKS_PER_S;
  if (typeof value === "number" && Math.floor(value) === value && value >= least && value <= most) return [];
  return [problem(path, `${shown(value)} is not a count of ticks`, `write a whole number from ${least} to ${most}`)];
}
