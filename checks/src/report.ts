import { type CheckResult, type Comparison, worstOf } from "./check.ts";
import { figure } from "./compare.ts";

/** Margins above this are near the edge; below the other, the tolerance says little. */
const NEAR_EDGE = 0.8;

function comparisonLines(c: Comparison): string[] {
  const mark = c.ok ? "ok  " : "FAIL";
  const look = c.ok && c.margin > NEAR_EDGE ? "  near the edge" : "";
  const lines = [
    `  ${mark} ${c.what}: ${figure(c.got)} ${c.unit}, expected ${c.expected}  margin ${c.margin.toFixed(2)}${look}`,
    `         ${c.tolerance}`,
  ];
  if (c.suspicious) lines.push(`         SUSPICIOUS: ${c.suspicious}`);
  return lines;
}

/** One check as a person reads it. */
export function checkText(result: CheckResult): string {
  const { id, title, kind, source, problem, inputs, comparisons, beside = [], disagreement } = result;
  return [
    `${result.ok ? "ok  " : "FAIL"} ${id}  ${title}  [${kind}]`,
    `  source: ${source.text} (${source.seen})`,
    `  ${problem}`,
    ...inputs.map((line) => `  given: ${line}`),
    ...comparisons.flatMap(comparisonLines),
    ...beside.map((line) => `  beside: ${line}`),
    ...(disagreement ? [`  note: ${disagreement}`] : []),
  ].join("\n");
}

/** The last line: totals, and which checks failed. */
export function totalText(results: readonly CheckResult[]): string {
  const failed = results.filter((r) => !r.ok);
  const comparisons = results.reduce((sum, r) => sum + r.comparisons.length, 0);
  const suspicious = results.flatMap((r) => r.comparisons).filter((c) => c.suspicious).length;
  const worst = worstOf(results.map((r) => r.margin));
  const tail = failed.length > 0 ? `; FAILED: ${failed.map((r) => r.id).join(", ")}` : "";
  return `${results.length - failed.length} of ${results.length} checks hold (${comparisons} figures, ${suspicious} suspiciously good, largest margin ${worst.toFixed(2)})${tail}`;
}
