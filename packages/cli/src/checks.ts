import { type CheckResult, checkIds, checkText, runChecks, totalText } from "@brakeyard/checks";
import { readArguments } from "./arguments.ts";
import { Progress, say } from "./console.ts";
import { EXIT, type ExitCode, Stop } from "./outcome.ts";

/** `brakeyard checks`: the product against the outside. */
export function checksCommand(args: readonly string[]): ExitCode {
  const { values, positionals } = readArguments(args, {
    json: { type: "boolean", default: false },
    only: { type: "string", multiple: true, default: [] },
  });
  if (positionals.length > 0) throw new Stop(["checks takes no file; one check alone: --only ID"], EXIT.badInput);
  refuseUnknown(values.only);
  const progress = new Progress("checks");
  const results = runChecks({
    only: values.only,
    before: (id, share) => progress.at(share, id),
    clock: () => performance.now(),
  });
  progress.done();
  if (values.json) say(JSON.stringify({ checks: results }, null, 2));
  else print(results);
  return results.every((one) => one.ok) ? EXIT.ok : EXIT.failed;
}

function refuseUnknown(only: readonly string[]): void {
  const unknown = only.filter((id) => !checkIds.includes(id));
  if (unknown.length === 0) return;
  throw new Stop([`no check is called ${unknown.join(", ")}; there are ${checkIds.join(", ")}`], EXIT.badInput);
}

function print(results: readonly CheckResult[]): void {
  for (const result of results) say(`${checkText(result)}\n`);
  say(totalText(results));
}
