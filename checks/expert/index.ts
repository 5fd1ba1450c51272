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
import { parking } from "./11-parking.ts";
import { modulatingValve } from "./12-modulating-valve.ts";
import { trailer } from "./13-trailer.ts";
import { altitude } from "./14-altitude.ts";
import { honestYard, type Yard } from "./yard.ts";

/** The fourteen statements, in order. */
const STATEMENTS = [
  needles,
  fullApplications,
  leakLaw,
  tornParts,
  sink,
  oneCircuit,
  bothDown,
  pedal,
  supply,
  supplyLine,
  parking,
  modulatingValve,
  trailer,
  altitude,
];

/** The fourteen statements of what an expert will try, each clause a check, on the vehicles of a yard. */
export function expertChecksIn(yard: Yard): readonly Check[] {
  return STATEMENTS.flatMap((statement) => statement(yard));
}

export const expertChecks: readonly Check[] = expertChecksIn(honestYard);
