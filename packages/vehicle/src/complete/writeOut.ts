import type { VehicleFile } from "../schema/vehicle.ts";
import { type Choice, type Quantity, storeChoice, storeQuantity } from "../values/resolved.ts";
import type { StoredChoice, StoredQuantity } from "../values/stored.ts";
import type * as complete from "./complete.ts";

type Filled = Readonly<Record<string, unknown>>;
type Stored = Record<string, StoredQuantity | StoredChoice>;

/** A filled part as a file holds it. */
function part(filled: Filled): Stored {
  const out: Stored = {};
  for (const [key, value] of Object.entries(filled)) {
    if (isQuantity(value)) out[key] = storeQuantity(value);
    else if (isChoice(value)) out[key] = storeChoice(value);
  }
  return out;
}

function isQuantity(value: unknown): value is Quantity {
  return typeof value === "object" && value !== null && "si" in value;
}

function isChoice(value: unknown): value is Choice {
  return typeof value === "object" && value !== null && "alternatives" in value;
}

function fedFrom(feeders: readonly string[]): string | readonly string[] {
  return feeders.length === 1 ? String(feeders[0]) : feeders;
}

/**
 * The vehicle as a file in which every value is written out, also those that were taken as typical: nothing in it depends on
 * the generic parts any more.
 */
export function writeOut(vehicle: complete.CompleteVehicle): VehicleFile {
  const { file, air, engineSpeeds } = vehicle;
  const { gears, ...driveline } = vehicle.driveline;
  return {
    format: file.format,
    version: file.version,
    id: file.id,
    title: file.title,
    ...(file.note !== undefined && { note: file.note }),
    kind: file.kind,
    propulsion: file.propulsion,
    built: file.built,
    ratings: part(vehicle.ratings),
    masses: part(vehicle.masses),
    ...(file.wheelbase && { wheelbase: file.wheelbase }),
    ...(engineSpeeds && { engineSpeeds: part(engineSpeeds) }),
    driveline: {
      ...part(driveline),
      gears: gears.map((gear) => ({ name: gear.name, ratio: storeQuantity(gear.ratio) })),
    },
    axles: vehicle.axles.map((axle) => writeAxle(axle, file.kind === "trailer")),
    ...(air && { air: writeAir(air) }),
  } as unknown as VehicleFile;
}

function writeAxle(axle: complete.CompleteAxle, towed: boolean): Record<string, unknown> {
  return {
    id: axle.id,
    title: axle.title,
    ...(axle.steering && { steering: true }),
    ...(axle.driven && { driven: true }),
    ...part(axle.values),
    ...(axle.brakes ? { brakes: writeBrakes(axle.brakes, towed) } : { unbraked: true }),
  };
}

function writeBrakes(brakes: complete.CompleteBrakes, towed: boolean): Record<string, unknown> {
  const left = part(brakes.left);
  const right = part(brakes.right);
  const differs = Object.keys(right).filter((key) => JSON.stringify(right[key]) !== JSON.stringify(left[key]));
  const path = brakes.application;
  return {
    ...left,
    ...(differs.length > 0 && { right: Object.fromEntries(differs.map((key) => [key, right[key]])) }),
    application: {
      ...(!towed && { circuit: path.circuit }),
      ...(path.fedFrom.length === 1 && { fedFrom: path.fedFrom[0] }),
      ...(path.shares !== null && { shares: path.shares }),
      ...part(path.path),
      relay: part(path.relay),
      quickRelease: part(path.quickRelease),
      ...(path.loadSensing && { loadSensing: part(path.loadSensing) }),
    },
  };
}

function writeAir(air: complete.CompleteAir): Record<string, unknown> {
  return {
    ...(air.power && writeSupply(air.power.supply)),
    reservoirs: air.reservoirs.map(writeReservoir),
    auxiliaries: air.auxiliaries.map(writeAuxiliary),
    doubleCheckValves: part(air.doubleCheckValves),
    ...(air.power && writePower(air.power)),
    ...(air.towed && {
      towed: {
        lines: part(air.towed.lines),
        springValve: part(air.towed.springValve),
        emergencyValve: part(air.towed.emergencyValve),
      },
    }),
  };
}

function writeSupply(supply: complete.CompleteSupply): Record<string, unknown> {
  return {
    compressor: { drive: supply.compressor.drive, ...part(supply.compressor.values) },
    governor: part(supply.governor),
    dischargeLine: part(supply.dischargeLine),
    dryer: part(supply.dryer),
  };
}

function writeReservoir(one: complete.CompleteReservoir): Record<string, unknown> {
  return {
    id: one.id,
    title: one.title,
    role: one.role,
    fedFrom: fedFrom(one.fedFrom),
    ...(one.sharesShellWith !== null && { sharesShellWith: one.sharesShellWith }),
    ...part(one.values),
    ...(one.safetyValve && { safetyValve: part(one.safetyValve) }),
  };
}

function writeAuxiliary(one: complete.CompleteAuxiliary): Record<string, unknown> {
  const { id, title, kind } = one;
  const guard = one.protection ? { protection: part(one.protection) } : { unprotected: true };
  return { id, title, kind, fedFrom: fedFrom(one.fedFrom), ...part(one.values), ...guard };
}

function writePower(power: complete.CompletePower): Record<string, unknown> {
  const { multiCircuit, foot, parking, connection, cab } = power;
  return {
    ...(multiCircuit && {
      multiCircuitValve: {
        fedFrom: fedFrom(multiCircuit.fedFrom),
        circuits: multiCircuit.circuits.map((one) => ({ id: one.id, ...part(one.values) })),
      },
    }),
    footValve: {
      primaryFrom: fedFrom(foot.primaryFrom),
      secondaryFrom: fedFrom(foot.secondaryFrom),
      ...part(foot.values),
    },
    ...(parking && { parking: writeParking(parking) }),
    ...(connection && { trailerConnection: writeConnection(connection) }),
    warning: { watches: cab.watches, lowAir: part(cab.lowAir), stopLamp: part(cab.stopLamp) },
    gauges: cab.gauges.map((one) => ({ id: one.id, shows: one.shows, ...part(one.values) })),
  };
}

function writeParking(parking: complete.CompleteParking): Record<string, unknown> {
  return {
    fedFrom: fedFrom(parking.fedFrom),
    control: part(parking.control),
    springs: part(parking.springs),
    ...(parking.modulating && { springBrakeModulatingValve: part(parking.modulating) }),
  };
}

function writeConnection(connection: complete.CompleteTrailerConnection): Record<string, unknown> {
  return {
    fedFrom: fedFrom(connection.fedFrom),
    protection: part(connection.protection),
    supplyControl: part(connection.supplyControl),
    handValve: part(connection.handValve),
    lines: part(connection.lines),
  };
}
