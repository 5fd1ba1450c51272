import type { Signal } from "@brakeyard/engine";
import { endVolumeM3 } from "@brakeyard/engine";
import type { CompleteAir, CompletePower, CompleteVehicle } from "../complete/complete.ts";
import { addCab } from "./cab.ts";
import { addDrive } from "./compressor.ts";
import { addAuxiliary, addMultiCircuit, feedTanks } from "./feeds.ts";
import { AssemblyError } from "./options.ts";
import { addParking } from "./parking.ts";
import type { Plant, Tap } from "./plant.ts";
import { addService } from "./service.ts";
import { springAir } from "./springs.ts";
import { EMPTY, type Rest, type StartKnowledge } from "./start.ts";
import { addSource } from "./supply.ts";
import { addTanks } from "./tanks.ts";
import { addConnection, type TractorEnds } from "./towing.ts";
import { addTowed, springHose, springValveRest, type TrailerEnds, trailerSupplyRest } from "./trailer.ts";
import { type BrakedAxle, isBraked, springChambers, TRAILER, type Unit } from "./unit.ts";
import { addChambers } from "./wheels.ts";

interface Powered {
  readonly governor: NonNullable<StartKnowledge["governor"]>;
  readonly ends: TractorEnds | undefined;
}

/** A power unit up to its trailer connection, if it has one. */
export function addPower(plant: Plant, vehicle: CompleteVehicle, air: CompleteAir, power: CompletePower): Powered {
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
export function addTrailer(plant: Plant, vehicle: CompleteVehicle, fed: Rest): TrailerEnds | undefined {
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
