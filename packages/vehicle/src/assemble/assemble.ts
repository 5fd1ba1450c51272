import type { ChannelSpec, EngineModel, StartState } from "@brakeyard/engine";
import type { CompleteVehicle } from "../complete/complete.ts";
import { couple, endBobtail } from "./couplings.ts";
import type { FaultHandle } from "./faultBoard.ts";
import { addLeaksAnywhere } from "./leaks.ts";
import { type AssembleOptions, AssemblyError, type Rig } from "./options.ts";
import { Plant } from "./plant.ts";
import { addRig } from "./rig.ts";
import type { Schematic } from "./schematic.ts";
import { type StartKnowledge, type StartRequest, startState } from "./start.ts";
import { addPower, addTrailer } from "./units.ts";

/** What is put together: a vehicle alone, a tractor with a trailer, or a trailer on a test rig. */
export type Subject =
  | { readonly vehicle: CompleteVehicle }
  | { readonly tractor: CompleteVehicle; readonly trailer: CompleteVehicle }
  | { readonly trailer: CompleteVehicle; readonly rig: Rig };

/** A vehicle ready to run, with its picture. */
export interface Assembly {
  readonly model: EngineModel;
  readonly schematic: Schematic;
  /** Faults asked for: the control that brings each on. */
  readonly faults: readonly FaultHandle[];
  /** Tanks and chambers by the names that starts and settings use. */
  readonly tanks: readonly string[];
  readonly chambers: readonly string[];
  /** Engine speeds that have a name, rpm; null without an engine. */
  readonly speedsRpm: Readonly<
    Record<"crank" | "idle" | "fastIdle" | "governed" | "maximumRecommended", number>
  > | null;
  /** Start values for the engine, everything at rest. */
  start(request: StartRequest): StartState;
}

/**
 * From complete vehicles to an engine model and its picture.
 * @throws AssemblyError when a fault or setting names something that is not there, or units do not fit together
 */
export function assemble(subject: Subject, options: AssembleOptions = {}): Assembly {
  const plant = new Plant(options);
  const governor = "rig" in subject ? addOnRig(plant, subject.trailer, subject.rig) : addDriven(plant, subject);
  addLeaksAnywhere(plant);
  refuseUnknownChambers(plant);
  plant.faults.finish();
  const model = withSupplyFlows(plant.net.compile());
  return finish(plant, model, governor, powerOf(subject));
}

function powerOf(subject: Subject): CompleteVehicle | undefined {
  if ("vehicle" in subject) return subject.vehicle;
  return "tractor" in subject ? subject.tractor : undefined;
}

function finish(
  plant: Plant,
  model: EngineModel,
  governor: StartKnowledge["governor"],
  power: CompleteVehicle | undefined,
): Assembly {
  const known: StartKnowledge = {
    rests: plant.rests,
    tanks: [...plant.tankM3.keys()],
    controls: model.controls.map((control) => control.id),
    modes: model.modes.map((mode) => mode.id),
    governor,
  };
  return {
    model,
    schematic: plant.sheet.finish(),
    faults: plant.faults.handles,
    tanks: known.tanks,
    chambers: plant.chambers,
    speedsRpm: speedsOf(power),
    start: (request) => startState(known, request),
  };
}

function speedsOf(vehicle: CompleteVehicle | undefined): Assembly["speedsRpm"] {
  const speeds = vehicle?.engineSpeeds;
  if (!speeds) return null;
  const { crank, idle, fastIdle, governed, maximumRecommended } = speeds;
  return {
    crank: crank.si,
    idle: idle.si,
    fastIdle: fastIdle.si,
    governed: governed.si,
    maximumRecommended: maximumRecommended.si,
  };
}

function refuseUnknownChambers(plant: Plant): void {
  for (const name of Object.keys(plant.freeStrokesM)) {
    if (plant.chambers.includes(name)) continue;
    throw new AssemblyError(name, `there is no chamber "${name}"`, `write one of ${plant.chambers.join(", ")}`);
  }
}

function addDriven(plant: Plant, subject: Exclude<Subject, { rig: Rig }>): StartKnowledge["governor"] {
  const vehicle = "vehicle" in subject ? subject.vehicle : subject.tractor;
  if (!vehicle.air?.power) {
    throw new AssemblyError(
      vehicle.id,
      "a trailer has no air of its own",
      "couple it to a tractor or put it on the test rig",
    );
  }
  const { governor, ends } = addPower(plant, vehicle, vehicle.air, vehicle.air.power);
  if ("vehicle" in subject) {
    if (ends) endBobtail(plant, ends);
    return governor;
  }
  if (!ends)
    throw new AssemblyError(vehicle.id, "it has no trailer connection", "take a tractor, or write a trailerConnection");
  const { supply } = ends;
  const trailer = addTrailer(plant, subject.trailer, supply.rest);
  if (trailer) couple(plant, ends, trailer);
  else endBobtail(plant, ends);
  return governor;
}

function addOnRig(plant: Plant, vehicle: CompleteVehicle, rig: Rig): null {
  const ends = addRig(plant, rig);
  const trailer = addTrailer(plant, vehicle, () => rig.pressurePa);
  if (!trailer) throw new AssemblyError(vehicle.id, "it has no brakes to test", "take a trailer with brakes");
  couple(plant, { ...ends, lines: trailer.lines }, trailer);
  return null;
}

/** Components show what they deliver; the picture's supply pipes also need what they take. */
function withSupplyFlows(model: EngineModel): EngineModel {
  const extra = model.orifices.flatMap((orifice, index): ChannelSpec[] => {
    const id = supplyFlowOf(orifice.name);
    return id === undefined
      ? []
      : [{ id, kind: "truth", unit: "kg/s", source: { of: "flow", orifices: [{ index, sign: 1 }] } }];
  });
  return { ...model, channels: [...model.channels, ...extra] };
}

function supplyFlowOf(orifice: string): string | undefined {
  const foot = /^footValve\.(primary|secondary)\.supply$/.exec(orifice);
  if (foot) return `flow.${orifice}`;
  const relay = /^(.*(?:\.relay|springRelay))\.inlet$/.exec(orifice);
  return relay ? `flow.${relay[1]}.supply` : undefined;
}
