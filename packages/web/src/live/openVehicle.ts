import type { StartState } from "@brakeyard/engine";
import {
  type Assembly,
  AssemblyError,
  assemble,
  type CompleteVehicle,
  completeVehicle,
  fleet,
  loadVehicle,
  STANDARD_RIG,
  type StartRequest,
  type Subject,
  writeOut,
} from "@brakeyard/vehicle";
import type { ControlInfo, FleetEntry, OpenVehicle, Problem, VehicleSource } from "./contract.ts";

/** A vehicle ready to run. */
export interface Opened {
  ok: true;
  info: OpenVehicle;
  assembly: Assembly;
  start: StartState;
  request: StartRequest;
  /** Texts of the vehicle files, for the run file. */
  texts: string[];
}

export type OpenResult = Opened | { ok: false; problems: Problem[] };

/** Joins the ids of a tractor and a trailer in the fleet list. */
const WITH = "+";
/** The vehicle is found a little above cut-in, the compressor pumping: something moves from the first moment. */
const ABOVE_CUT_IN_PA = 14_000;
/** Tanks of a vehicle whose file has no governor are found at 100 psi. */
const USUAL_PA = 689_476;

/** The demo fleet; each tractor also with each trailer. */
export function fleetList(): FleetEntry[] {
  const single = fleet.map((v) => ({ id: v.id, title: v.title }));
  const pairs = fleet
    .filter((v) => v.kind === "tractor")
    .flatMap((t) =>
      fleet
        .filter((v) => v.kind === "trailer")
        .map((s) => ({ id: t.id + WITH + s.id, title: `${t.title} + ${s.title}` })),
    );
  return [...single, ...pairs];
}

/** Reads, checks, completes and assembles; or says everything that is wrong. */
export function openVehicle(source: VehicleSource): OpenResult {
  const texts = source.from === "file" ? source.texts : textsOf(source.id);
  if (texts.length === 0) return refuse("$", "no such vehicle in the fleet", "choose one of the list");
  const complete: CompleteVehicle[] = [];
  const notes: string[] = [];
  for (const text of texts) {
    const loaded = loadVehicle(text);
    if (!loaded.ok) return { ok: false, problems: loaded.problems.map((p) => ({ ...p })) };
    complete.push(completeVehicle(loaded.vehicle));
    notes.push(...loaded.notes);
  }
  const subject = subjectOf(complete);
  if ("problem" in subject) return subject.problem;
  return build(source, subject, complete, notes, texts);
}

function textsOf(id: string): string[] {
  return id.split(WITH).flatMap((one) => fleet.filter((v) => v.id === one).map((v) => v.vehicle()));
}

/** A trailer alone stands on the rig of the standard; two files are a tractor and its trailer, in either order. */
function subjectOf(complete: readonly CompleteVehicle[]): Subject | { problem: OpenResult } {
  const [first, second] = complete;
  if (!second) return first!.kind === "trailer" ? { trailer: first!, rig: STANDARD_RIG } : { vehicle: first! };
  const trailer = complete.find((v) => v.kind === "trailer");
  const tractor = complete.find((v) => v.kind !== "trailer");
  if (trailer && tractor) return { tractor, trailer };
  const remedy = "open one vehicle, or one tractor and one trailer together";
  return { problem: refuse("$.kind", `both files are of the kind ${first!.kind}`, remedy) };
}

function build(
  source: VehicleSource,
  subject: Subject,
  complete: CompleteVehicle[],
  notes: string[],
  texts: string[],
): OpenResult {
  try {
    const assembly = assemble(subject);
    const request = requestOf(assembly, complete);
    const start = assembly.start(request);
    return { ok: true, assembly, start, request, texts, info: infoOf(source, assembly, start, complete, notes) };
  } catch (error) {
    if (error instanceof AssemblyError) return refuse(error.subject, error.message, error.remedy);
    throw error;
  }
}

/** Engine speed that a start asks for, rpm; 0 for none. */
export function chosenSpeed(request: StartRequest): number {
  return request.engineRpm ?? 0;
}

/** Built up to just above cut-in, parked, engine idling, trailer not yet supplied, chocks in place. */
function requestOf(assembly: Assembly, complete: readonly CompleteVehicle[]): StartRequest {
  const cutIn = complete.map((v) => v.air?.power?.supply.governor.cutIn.si).find((p) => p !== undefined);
  return {
    otherTanksPa: cutIn === undefined ? USUAL_PA : cutIn + ABOVE_CUT_IN_PA,
    key: 1,
    engineRpm: assembly.speedsRpm?.idle ?? 0,
    parking: "out",
    trailerSupply: "out",
    ...(cutIn !== undefined && { loaded: true }),
    chocks: 1,
  };
}

function infoOf(
  source: VehicleSource,
  assembly: Assembly,
  start: StartState,
  complete: CompleteVehicle[],
  notes: string[],
): OpenVehicle {
  const { model } = assembly;
  const written = complete.map((v) => writeOut(v));
  const chamber =
    assembly.chambers.find((c) => model.channels.some((ch) => ch.id === `springForce.${c}`)) ?? assembly.chambers[0];
  return {
    source,
    title: complete.map((v) => v.title).join(" + "),
    typicalValues: countOrigins(written, (from) => from === "typical"),
    allValues: countOrigins(written, () => true),
    notes,
    schematic: assembly.schematic,
    channels: model.channels.map(({ id, kind, unit }) => ({ id, kind, unit })),
    controls: model.controls.map((c): ControlInfo => {
      const curve = c.curves?.[0];
      return {
        id: c.id,
        kind: c.kind,
        minimum: c.minimum,
        maximum: c.maximum,
        start: start.controls?.[c.id] ?? c.initial,
        unit: c.unit,
        ...(curve && { curve: { at: [...curve.at], gives: [...curve.gives] } }),
      };
    }),
    engineSpeedsRpm: speedsOf(assembly),
    traced: ["gauge.primary", "gauge.secondary", "gauge.application", `pressure.${chamber}.service`],
  };
}

/** Idle, fast idle and governed speed, and one between the last two. */
function speedsOf(assembly: Assembly): number[] {
  const speeds = assembly.speedsRpm;
  if (!speeds) return [];
  const between = Math.round((speeds.fastIdle + speeds.governed) / 200) * 100;
  return [speeds.idle, speeds.fastIdle, between, speeds.governed];
}

/** Counts the values of a file, all the way down, by where they came from. */
function countOrigins(value: unknown, counts: (from: string) => boolean): number {
  if (typeof value !== "object" || value === null) return 0;
  if ("from" in value && typeof value.from === "string") return counts(value.from) ? 1 : 0;
  return Object.values(value).reduce((sum: number, one) => sum + countOrigins(one, counts), 0);
}

function refuse(path: string, message: string, remedy: string): OpenResult {
  return { ok: false, problems: [{ path, message, remedy }] };
}
