import type { Check } from "../src/check.ts";
import { compressorCapacity, governorCutIn, manualBuildUp } from "./build-up.ts";
import { fullDelivery, popOutPressure, seventyPercent, warningPressure } from "./cab.ts";
import { leakLimits, leakRates } from "./leaks.ts";
import { lines } from "./lines.ts";
import { lineBreak, quebecIdle, supplyRetention } from "./protection.ts";
import { annex6, annex6Simulator, annex7Applications, annex7Filling } from "./r13.ts";
import { tableV, twelveTimes } from "./reservoirs.ts";
import { actuation, couplingTimes, parkingTime, trailerTimes } from "./timing.ts";

/** Rows of published rules that are about air. */
export const standards: readonly Check[] = [
  twelveTimes,
  tableV,
  compressorCapacity,
  governorCutIn,
  manualBuildUp,
  actuation,
  couplingTimes,
  trailerTimes,
  parkingTime,
  annex6,
  annex6Simulator,
  annex7Applications,
  annex7Filling,
  warningPressure,
  popOutPressure,
  seventyPercent,
  fullDelivery,
  leakLimits,
  leakRates,
  quebecIdle,
  lineBreak,
  supplyRetention,
  lines,
];
