import type { Check } from "../src/check.ts";
import { needles } from "./01-needles.ts";
import { fullApplications } from "./02-full-applications.ts";
import { honestYard, type Yard } from "./yard.ts";

/** The fourteen statements of what an expert will try, each clause a check, on the vehicles of a yard. */
export function expertChecksIn(yard: Yard): readonly Check[] {
  return [needles, fullApplications].flatMap((statement) => statement(yard));
}

export const expertChecks: readonly Check[] = expertChecksIn(honestYard);
