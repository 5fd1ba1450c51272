import * as z from "zod/mini";
import { inRuleUnit } from "../parts/part.ts";
import { bare, choice, judged, object, words } from "../schema/build.ts";
import { type PathParts, type Problem, problem, shown } from "../text/problem.ts";
import { type BareQuantity, checkBareQuantity, type QuantityRule } from "../values/stored.ts";
import { fault, GAUGE_PRESSURE, place, seconds, ticks } from "./faultSchema.ts";

export const RUN_FORMAT = "brakeyard-run";
/** Newest format version this package reads. */
export const RUN_VERSION = 1;

/** Where a vehicle comes from. */
export type VehicleRef =
  | { readonly fleet: string }
  | { readonly file: string }
  | { readonly inline: Record<string, unknown> };

const vehicleRef = () => judged<VehicleRef>(checkRef);

function checkRef(value: unknown, path: PathParts): Problem[] {
  const remedy = 'write {"fleet": "harrow-ridge-12"}, {"file": "my-bus.json"} or {"inline": {...}}';
  if (typeof value !== "object" || value === null || Array.isArray(value)) {
    return [problem(path, value === undefined ? "missing" : `${shown(value)} stands here`, remedy)];
  }
  const [key, ...others] = Object.keys(value);
  if (others.length > 0 || (key !== "fleet" && key !== "file" && key !== "inline")) {
    return [problem(path, "it must have exactly one of the keys fleet, file, inline", remedy)];
  }
  const given = (value as Record<string, unknown>)[key];
  const fine =
    key === "inline"
      ? typeof given === "object" && given !== null && !Array.isArray(given)
      : typeof given === "string" && given !== "";
  return fine ? [] : [problem([...path, key], `${shown(given)} stands here`, remedy)];
}

const rule = (kind: QuantityRule["kind"], unit: string, least: number, most: number): QuantityRule => ({
  kind,
  unit,
  least,
  most,
});
const RPM = rule("turning", "rpm", 0, 6000);
const AIR_TEMPERATURE = rule("temperature", "C", -60, 200);

const surroundings = object({
  temperature: z.optional(bare(rule("temperature", "C", -50, 60))),
  altitude: z.optional(bare(rule("length", "m", -500, 6000))),
  pressure: z.optional(bare(rule("pressure", "kPa", 40, 110))),
});

const air = object({
  pressure: bare(GAUGE_PRESSURE),
  temperature: z.optional(bare(AIR_TEMPERATURE)),
});

const SPEEDS = ["off", "idle", "fastIdle", "governed", "maximum"] as const;

/** A named engine speed or a number of rpm. */
const engineState = () =>
  judged<(typeof SPEEDS)[number] | BareQuantity>((value, path) => {
    if (typeof value !== "string") return checkBareQuantity(value, RPM, path, inRuleUnit(RPM));
    if ((SPEEDS as readonly string[]).includes(value)) return [];
    return [
      problem(
        path,
        `${shown(value)} is not an engine state`,
        `write ${SPEEDS.join(", ")}, or {"value": 900, "unit": "rpm"}`,
      ),
    ];
  });

const start = object({
  tanks: z.optional(named(air)),
  otherTanks: z.optional(bare(GAUGE_PRESSURE)),
  nodes: z.optional(named(air)),
  engine: z.optional(engineState()),
  key: z.optional(choice("on", "off")),
  parking: z.optional(choice("in", "out")),
  trailerSupply: z.optional(choice("in", "out")),
  compressor: z.optional(choice("loaded", "unloaded")),
  chocks: z.optional(choice("placed", "away")),
  freeStrokes: z.optional(named(bare(rule("length", "in", 0, 4)))),
});

/** An object whose keys are names of places. */
function named<T>(of: z.ZodMiniType<T>): z.ZodMiniType<Record<string, T>> {
  return z.record(z.string(), of);
}

/** What a control goes to: a number, a word, or a number with a unit. */
export type ControlValue = number | string | BareQuantity;

const controlValue = () =>
  judged<ControlValue>((value: unknown, path: PathParts): Problem[] => {
    const remedy = 'write a number, a word such as "full", "in" or "off", or {"value": 40, "unit": "psi"}';
    if (typeof value === "number" && Number.isFinite(value)) return [];
    if (typeof value === "string" && value !== "") return [];
    if (typeof value === "object" && value !== null && !Array.isArray(value))
      return checkValueWithUnit(value, path, remedy);
    return [problem(path, value === undefined ? "missing" : `${shown(value)} stands here`, remedy)];
  });

function checkValueWithUnit(value: object, path: PathParts, remedy: string): Problem[] {
  const raw = value as Record<string, unknown>;
  const problems = Object.keys(raw)
    .filter((key) => key !== "value" && key !== "unit")
    .map((key) => problem([...path, key], "unknown key", "a value has the keys value and unit"));
  if (typeof raw.value !== "number")
    problems.push(problem([...path, "value"], `${shown(raw.value)} is not a number`, remedy));
  if (typeof raw.unit !== "string")
    problems.push(problem([...path, "unit"], "the unit is missing", 'write "rpm", "psi", "kPa" or "bar"'));
  return problems;
}

const control = object({
  atS: z.optional(seconds()),
  atTick: z.optional(ticks()),
  control: place(),
  value: controlValue(),
  overS: z.optional(seconds(0.01)),
});

/** Channel names, each a name or a pattern with `*`; or a word for many. */
const channels = () =>
  judged<"readings" | "all" | readonly string[]>((value: unknown, path: PathParts): Problem[] => {
    const remedy = 'write "readings", "all" or a list such as ["gauge.primary", "pressure.*"]';
    if (value === "readings" || value === "all") return [];
    if (!Array.isArray(value) || value.length === 0) return [problem(path, `${shown(value)} stands here`, remedy)];
    return value.flatMap((one, i) =>
      isPattern(one) ? [] : [problem([...path, i], `${shown(one)} stands here`, remedy)],
    );
  });

/** A channel's name with at most three stars: more would only be slow. */
function isPattern(value: unknown): boolean {
  return typeof value === "string" && value !== "" && value.length <= 80 && value.split("*").length <= 4;
}

const rig = object({
  pressure: z.optional(bare(rule("pressure", "psi", 20, 200))),
  tank: z.optional(bare(rule("volume", "in3", 10, 100000))),
});

const tolerance = () =>
  judged<number>((value: unknown, path: PathParts): Problem[] => {
    if (typeof value === "number" && value >= 1e-12 && value <= 1e-2) return [];
    return [problem(path, `${shown(value)} stands here`, "write a relative error from 1e-12 to 1e-2, such as 1e-5")];
  });

/** Schema of a run file, format version 1. What schemas cannot say is looked at when the run is prepared. */
export const runSchema = object({
  format: z.literal(RUN_FORMAT),
  version: z.literal(RUN_VERSION),
  title: z.optional(words(120)),
  note: z.optional(words(4000)),
  vehicle: z.optional(vehicleRef()),
  tractor: z.optional(vehicleRef()),
  trailer: z.optional(vehicleRef()),
  rig: z.optional(rig),
  surroundings: z.optional(surroundings),
  isothermal: z.optional(choiceOfTruth()),
  start: z.optional(start),
  controls: z.optional(z.array(control).check(z.maxLength(100000))),
  faults: z.optional(z.array(fault).check(z.maxLength(40))),
  channels: z.optional(channels()),
  durationS: z.optional(seconds(0.01)),
  durationTicks: z.optional(ticks(1)),
  sampleEveryS: z.optional(seconds(0.01)),
  tolerance: z.optional(tolerance()),
});

function choiceOfTruth(): z.ZodMiniType<boolean> {
  return judged<boolean>((value, path) =>
    typeof value === "boolean"
      ? []
      : [problem(path, `${shown(value)} stands here`, "write true or false without quotes")],
  );
}

/** A run file, format version 1, as it stands in JSON. */
export type RunFile = z.infer<typeof runSchema>;
export type ControlFile = NonNullable<RunFile["controls"]>[number];
