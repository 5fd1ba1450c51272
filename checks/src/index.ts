import { allChecks } from "./all.ts";
import { type CheckResult, runCheck } from "./check.ts";

export type { Check, CheckResult, Comparison, Kind, Outcome, Seen, Source } from "./check.ts";
export { checkText, totalText } from "./report.ts";

/** Names of all checks, in order. */
export const checkIds: readonly string[] = allChecks.map((check) => check.id);

export interface RunChecksOptions {
  /** Names of the checks wanted; none means all. Throws RangeError for a name that does not exist. */
  readonly only?: readonly string[];
  /** Told before each check: its name, and the share of checks that are done. */
  readonly before?: (id: string, share: number) => void;
  /** Milliseconds, for the time each took. Without one they show 0. */
  readonly clock?: () => number;
}

/** Runs the checks one after another. None stops the rest. */
export function runChecks(options: RunChecksOptions = {}): CheckResult[] {
  const { only = [], before, clock = () => 0 } = options;
  const unknown = only.filter((id) => !checkIds.includes(id));
  if (unknown.length > 0) throw new RangeError(`no check is called ${unknown.join(", ")}`);
  const wanted = allChecks.filter((check) => only.length === 0 || only.includes(check.id));
  return wanted.map((check, i) => {
    before?.(check.id, i / wanted.length);
    return runCheck(check, clock);
  });
}
