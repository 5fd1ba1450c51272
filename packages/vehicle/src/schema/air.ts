import * as z from "zod/mini";
import { doubleCheck, footValve } from "../parts/application.ts";
import { gauge, lowAirWarning, stopLamp } from "../parts/cab.ts";
import { parkingControl, springBrakeModulatingValve, springPath } from "../parts/parking.ts";
import type { StoredOf } from "../parts/part.ts";
import * as supply from "../parts/supply.ts";
import * as towing from "../parts/trailer.ts";
import { type PathParts, type Problem, problem, shown } from "../text/problem.ts";
import { choice, identifier, judged, object, partSchema, words, yes } from "./build.ts";

/** One supply, or several that meet at a double check valve. */
export type FedFrom = string | readonly string[];

const fedFrom = () => judged<FedFrom>(checkFedFrom);

function checkFedFrom(value: unknown, path: PathParts): Problem[] {
  const remedy = "write the name of what feeds it, or a list of two or more names that meet at a double check valve";
  if (typeof value === "string") return [];
  if (!Array.isArray(value))
    return [problem(path, value === undefined ? "missing" : `${shown(value)} stands here`, remedy)];
  if (value.length < 2) return [problem(path, `a list of ${value.length} stands here`, remedy)];
  return value.flatMap((item, i) =>
    typeof item === "string" ? [] : [problem([...path, i], `${shown(item)} stands here`, remedy)],
  );
}

/** Compressor as it stands in a file. */
export type CompressorFile =
  | ({ readonly drive: "engine" } & StoredOf<typeof supply.engineCompressor>)
  | ({ readonly drive: "electric" } & StoredOf<typeof supply.electricCompressor>);

const compressor = z.discriminatedUnion("drive", [
  partSchema(supply.engineCompressor, { drive: z.literal("engine") }) as never,
  partSchema(supply.electricCompressor, { drive: z.literal("electric") }) as never,
]) as unknown as z.ZodMiniType<CompressorFile>;

export const RESERVOIR_ROLES = ["supply", "primary", "secondary", "parking", "auxiliary", "trailer"] as const;

const reservoir = partSchema(supply.reservoir, {
  id: identifier(),
  title: z.optional(words(60)),
  role: choice(...RESERVOIR_ROLES),
  fedFrom: z.optional(fedFrom()),
  sharesShellWith: z.optional(identifier()),
  safetyValve: z.optional(partSchema(supply.safetyValve, {})),
});

const auxiliary = partSchema(supply.auxiliary, {
  id: identifier(),
  title: z.optional(words(60)),
  kind: choice("doors", "suspension", "other"),
  fedFrom: fedFrom(),
  protection: z.optional(partSchema(supply.protectionValve, {})),
  unprotected: z.optional(yes()),
});

const multiCircuitValve = object({
  fedFrom: z.optional(fedFrom()),
  circuits: z.array(partSchema(supply.multiCircuit, { id: identifier() })).check(z.minLength(2), z.maxLength(6)),
});

const foot = partSchema(footValve, {
  primaryFrom: z.optional(fedFrom()),
  secondaryFrom: z.optional(fedFrom()),
});

const parking = object({
  fedFrom: z.optional(fedFrom()),
  control: z.optional(partSchema(parkingControl, {})),
  springs: z.optional(partSchema(springPath, {})),
  springBrakeModulatingValve: z.optional(partSchema(springBrakeModulatingValve, {})),
});

const trailerConnection = object({
  fedFrom: z.optional(fedFrom()),
  protection: z.optional(partSchema(towing.tractorProtection, {})),
  supplyControl: z.optional(partSchema(towing.trailerSupplyControl, {})),
  handValve: z.optional(partSchema(towing.handValve, {})),
  lines: z.optional(partSchema(towing.trailerLines, {})),
});

const towed = object({
  lines: z.optional(partSchema(towing.trailerLines, {})),
  springValve: z.optional(partSchema(towing.trailerSpringValve, {})),
  emergencyValve: z.optional(partSchema(towing.emergencyValve, {})),
});

const warning = object({
  watches: z.optional(z.array(identifier()).check(z.minLength(1), z.maxLength(8))),
  lowAir: z.optional(partSchema(lowAirWarning, {})),
  stopLamp: z.optional(partSchema(stopLamp, {})),
});

export const air = object({
  compressor: z.optional(compressor),
  governor: z.optional(partSchema(supply.governor, {})),
  dischargeLine: z.optional(partSchema(supply.dischargeLine, {})),
  dryer: z.optional(partSchema(supply.dryer, {})),
  reservoirs: z.array(reservoir).check(z.minLength(1), z.maxLength(12)),
  multiCircuitValve: z.optional(multiCircuitValve),
  auxiliaries: z.optional(z.array(auxiliary).check(z.maxLength(8))),
  footValve: z.optional(foot),
  doubleCheckValves: z.optional(partSchema(doubleCheck, {})),
  parking: z.optional(parking),
  trailerConnection: z.optional(trailerConnection),
  towed: z.optional(towed),
  warning: z.optional(warning),
  gauges: z.optional(z.array(partSchema(gauge, { id: identifier(), shows: identifier() })).check(z.maxLength(8))),
});
