import type { Check } from "../src/check.ts";
import { needles } from "./01-needles.ts";
import { fullApplications } from "./02-full-applications.ts";
import { leakLaw } from "./03-leak-law.ts";
import { tornParts } from "./04-torn-parts.ts";
import { sink } from "./05-sink.ts";
import { oneCircuit } from "./06-one-circuit.ts";
import { bothDown } from "./07-both-down.ts";
import { pedal } from "./08-pedal.ts";
import { supply } from "./09-supply.ts";
import { supplyLine } from "./10-supply-line.ts";
import { honestYard, type Yard } from "./yard.ts";

/** The fourteen statements of what an expert will try, each clause a check, on the vehicles of a yard. */
export function expertChecksIn(yard: Yard): readonly Check[] {
  return [needles, fullApplications, leakLaw, tornParts, sink, oneCircuit, bothDown, pedal, supply, supplyLine].flatMap(
    (statement) => statement(yard),
  );
}

export const expertChecks: readonly Check[] = expertChecksIn(honestYard);
