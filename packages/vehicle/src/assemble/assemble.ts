import type { ChannelSpec, EngineModel, Signal } from "@brakeyard/engine";
import { endVolumeM3, type StartState } from "@brakeyard/engine";
import type { CompleteAir, CompletePower, CompleteVehicle } from "../complete/complete.ts";
import { addCab } from "./cab.ts";
import type { FaultHandle } from "./faultBoard.ts";
import { addAuxiliary, addMultiCircuit, feedTanks } from "./feeds.ts";
import { addLeaksAnywhere } from "./leaks.ts";
import { type AssembleOptions, AssemblyError, type Rig } from "./options.ts";
import { addParking, springAir } from "./parking.ts";
import { Plant, type Tap } from "./plant.ts";
import { addRig } from "./rig.ts";
import type { Schematic } from "./schematic.ts";
import { addService } from "./service.ts";
import { EMPTY, type Rest, type StartKnowledge, type StartRequest, startState } from "./start.ts";
import { addDrive, addSource } from "./supply.ts";
import { addTanks } from "./tanks.ts";
import { addConnection, couple, endBobtail, type TractorEnds } from "./towing.ts";
import { addTowed, springHose, springValveRest, type TrailerEnds, trailerSupplyRest } from "./trailer.ts";
import { type BrakedAxle, isBraked, springChambers, TRAILER, type Unit } from "./unit.ts";
import { addChambers } from "./wheels.ts";

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

interface Powered {
  readonly governor: NonNullable<StartKnowledge["governor"]>;
  readonly ends: TractorEnds | undefined;
}

function addPower(plant: Plant, vehicle: CompleteVehicle, air: CompleteAir, power: CompletePower): Powered {
  const drive = addDrive(plant, vehicle);
  addTanks(plant, air.reservoirs, "");
  const source = addSource(plant, power, drive, air.reservoirs);
  const bare: Unit = { plant, vehicle, air, prefix: "", chambers: new Map() };
  if (power.multiCircuit) addMultiCircuit(bare, power.multiCircuit);
  feedTanks(bare, source);
  for (const auxiliary of air.auxiliaries) addAuxiliary(bare, auxiliary);
  const parkingSupply = power.parking && plant.meet(power.parking.fedFrom, "parking", air.doubleCheckValves);
  const unit: Unit = { ...bare, chambers: powerChambers(bare, power, parkingSupply) };
  const { deliveries, axles } = addService(unit, power.foot);
  const parkingIn =
    power.parking && parkingSupply ? addParkingAt(unit, power, parkingSupply, deliveries, axles) : undefined;
  const ends = power.connection ? addConnection(unit, power.connection, deliveries, parkingIn) : undefined;
  addCab(plant, power.cab, drive.key, deliveries, ends?.hand);
  return { governor: { sensed: source.rest, cutOutPa: power.supply.governor.cutOut.si }, ends };
}

function powerChambers(unit: Unit, power: CompletePower, parkingSupply: Tap | null): Unit["chambers"] {
  const springs =
    power.parking && parkingSupply ? springAir(power.parking, parkingSupply.rest) : { rest: EMPTY, hoseHalfM3: 0 };
  return addChambers(unit.plant, unit.vehicle, "", {
    spring: springs.rest,
    springHoseM3: springs.hoseHalfM3,
    springDrains: parkingSupply?.drains ?? [],
    serviceDrains: (axle) => drainsOf(unit, axle, leadOf(unit.vehicle, axle).brakes.application.fedFrom),
  });
}

/** Tanks that a service chamber takes its air from. */
function drainsOf(unit: Unit, axle: BrakedAxle, fed: readonly string[]): readonly string[] {
  const names =
    axle.brakes.application.path.via.value === "relay" || unit.prefix !== "" ? fed : footSupplies(unit, axle);
  return [...new Set(names.flatMap((name) => unit.plant.tap(unit.prefix + name).drains))];
}

function footSupplies(unit: Unit, axle: BrakedAxle): readonly string[] {
  const foot = unit.air.power?.foot;
  return (axle.brakes.application.circuit === "secondary" ? foot?.secondaryFrom : foot?.primaryFrom) ?? [];
}

/** The axle whose valve works this one: itself, unless it shares another's. */
function leadOf(vehicle: CompleteVehicle, axle: BrakedAxle): BrakedAxle {
  const shares = axle.brakes.application.shares;
  return vehicle.axles.filter(isBraked).find((one) => one.id === shares) ?? axle;
}

function addParkingAt(
  unit: Unit,
  power: CompletePower,
  supply: Tap,
  deliveries: Parameters<typeof addParking>[2]["deliveries"],
  axles: ReadonlyMap<string, Tap>,
): Signal | undefined {
  const [first] = springChambers(unit);
  if (!power.parking || !first) return undefined;
  const serviceAtSprings = axles.get(leadOf(unit.vehicle, first.axle as BrakedAxle).id) as Tap;
  const primaryTank = unit.plant.tap(power.foot.primaryFrom[0] as string);
  return addParking(unit, power.parking, { supply, deliveries, serviceAtSprings, primaryTank });
}

/** A trailer's system up to its couplings; undefined for one without brakes. */
function addTrailer(plant: Plant, vehicle: CompleteVehicle, fed: Rest): TrailerEnds | undefined {
  const { air } = vehicle;
  if (!air?.towed) return refusePowered(vehicle);
  plant.sheet.turnTo("trailer");
  const supplied = trailerSupplyRest(fed);
  addTanks(plant, air.reservoirs, TRAILER);
  const bare: Unit = { plant, vehicle, air, prefix: TRAILER, chambers: new Map() };
  const spring = springValveRest(air.towed, supplied);
  const chambers = addChambers(plant, vehicle, TRAILER, {
    spring,
    springHoseM3: endVolumeM3(springHose()) / 2,
    springDrains: [],
    serviceDrains: (axle) => drainsOf(bare, axle, leadOf(vehicle, axle).brakes.application.fedFrom),
  });
  const unit: Unit = { ...bare, chambers };
  const ends = addTowed(unit, air.towed, supplied);
  feedTanks(unit, plant.tap(TRAILER + firstTankId(unit)));
  for (const auxiliary of air.auxiliaries) addAuxiliary(unit, auxiliary);
  return ends;
}

function firstTankId(unit: Unit): string {
  return unit.air.reservoirs.find((one) => one.fedFrom.includes("supplyCoupling"))?.id ?? "";
}

function refusePowered(vehicle: CompleteVehicle): undefined {
  if (vehicle.kind === "trailer") return undefined;
  throw new AssemblyError(vehicle.id, "it is not a trailer", "couple a vehicle of the kind trailer");
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
