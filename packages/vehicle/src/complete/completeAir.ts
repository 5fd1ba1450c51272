import { feedersOf, hasSprings, multiCircuitSupply, tankOf } from "../check/layout.ts";
import { doubleCheck, footValve } from "../parts/application.ts";
import { gauge, lowAirWarning, stopLamp } from "../parts/cab.ts";
import { parkingControl, springBrakeModulatingValve, springPath } from "../parts/parking.ts";
import { fillPart } from "../parts/part.ts";
import * as supply from "../parts/supply.ts";
import * as towing from "../parts/trailer.ts";
import type { AirFile, ReservoirFile, VehicleFile } from "../schema/vehicle.ts";
import type * as complete from "./complete.ts";
import { capitalised } from "./completeAxle.ts";
import { circuitClosesBelow, closesBelow, cutInBelow, holdsInAbove, opensAbove } from "./neighbours.ts";

/** The air system with everything there. */
export function completeAir(file: VehicleFile, air: AirFile): complete.CompleteAir {
  return {
    reservoirs: air.reservoirs.map((one) => completeReservoir(file, air, one)),
    auxiliaries: (air.auxiliaries ?? []).map((one) => completeAuxiliary(file, air, one)),
    doubleCheckValves: fillPart(doubleCheck, air.doubleCheckValves),
    power: file.kind === "trailer" ? null : completePower(file, air),
    towed: file.kind === "trailer" ? completeTowed(air) : null,
  };
}

function completeReservoir(file: VehicleFile, air: AirFile, one: ReservoirFile): complete.CompleteReservoir {
  const guarded = one.safetyValve ?? (one.id === guardedTank(file, air) ? {} : null);
  return {
    id: one.id,
    title: one.title ?? capitalised(one.id),
    role: one.role,
    fedFrom: feedersOf(file, air, one.id).feeders,
    sharesShellWith: one.sharesShellWith ?? null,
    values: fillPart(supply.reservoir, one, one.role === "supply" ? NO_CHECK : {}),
    safetyValve: guarded && fillPart(supply.safetyValve, guarded),
  };
}

/** The supply tank's check valve is the dryer's, or the compressor's own. */
const NO_CHECK = {
  checkValve: { value: "no" as const, alternatives: ["yes" as const], source: "common practice, no source" },
};

/** A vehicle whose file names no safety valve has one where the compressor's air comes in first. */
function guardedTank(file: VehicleFile, air: AirFile): string | undefined {
  if (file.kind === "trailer" || air.reservoirs.some((one) => one.safetyValve)) return undefined;
  return tankOf(air, "supply") ?? tankOf(air, "primary");
}

type AuxiliaryFile = NonNullable<AirFile["auxiliaries"]>[number];

function completeAuxiliary(file: VehicleFile, air: AirFile, one: AuxiliaryFile): complete.CompleteAuxiliary {
  return {
    id: one.id,
    title: one.title ?? capitalised(one.id),
    kind: one.kind,
    fedFrom: feedersOf(file, air, one.id).feeders,
    values: fillPart(supply.auxiliary, one),
    protection: one.unprotected
      ? null
      : fillPart(supply.protectionValve, one.protection, closesBelow(one.protection?.opens)),
  };
}

function completePower(file: VehicleFile, air: AirFile): complete.CompletePower {
  return {
    supply: completeSupply(air),
    multiCircuit: completeMultiCircuit(file, air),
    foot: {
      primaryFrom: feedersOf(file, air, "footValve.primary").feeders,
      secondaryFrom: feedersOf(file, air, "footValve.secondary").feeders,
      values: fillPart(footValve, air.footValve),
    },
    parking: hasSprings(file) ? completeParking(file, air) : null,
    connection: completeConnection(file, air),
    cab: completeCab(file, air),
  };
}

function completeSupply(air: AirFile): complete.CompleteSupply {
  const given = air.compressor;
  if (!given) throw new Error("a vehicle that drives itself has a compressor; the checks refuse one without");
  return {
    compressor:
      given.drive === "engine"
        ? { drive: "engine", values: fillPart(supply.engineCompressor, given) }
        : { drive: "electric", values: fillPart(supply.electricCompressor, given) },
    governor: fillPart(supply.governor, air.governor, cutInBelow(air.governor?.cutOut)),
    dischargeLine: fillPart(supply.dischargeLine, air.dischargeLine),
    dryer: fillPart(supply.dryer, air.dryer),
  };
}

function completeMultiCircuit(file: VehicleFile, air: AirFile): complete.CompleteMultiCircuit | null {
  const fed = multiCircuitSupply(file, air);
  if (!fed || !air.multiCircuitValve) return null;
  const circuits = air.multiCircuitValve.circuits.map((one) => ({
    id: one.id,
    values: fillPart(supply.multiCircuit, one, circuitClosesBelow(one.opens)),
  }));
  return { fedFrom: fed.feeders, circuits };
}

function completeParking(file: VehicleFile, air: AirFile): complete.CompleteParking {
  const given = air.parking ?? {};
  const inversion = given.springBrakeModulatingValve;
  return {
    fedFrom: feedersOf(file, air, "parking").feeders,
    control: fillPart(parkingControl, given.control, holdsInAbove(given.control?.popsOut)),
    springs: fillPart(springPath, given.springs),
    modulating: inversion ? fillPart(springBrakeModulatingValve, inversion) : null,
  };
}

function completeConnection(file: VehicleFile, air: AirFile): complete.CompleteTrailerConnection | null {
  if (file.kind !== "tractor" && !air.trailerConnection) return null;
  const given = air.trailerConnection ?? {};
  return {
    fedFrom: feedersOf(file, air, "trailerConnection").feeders,
    protection: fillPart(towing.tractorProtection, given.protection, opensAbove(given.protection?.closes)),
    supplyControl: fillPart(
      towing.trailerSupplyControl,
      given.supplyControl,
      holdsInAbove(given.supplyControl?.popsOut),
    ),
    handValve: fillPart(towing.handValve, given.handValve),
    lines: fillPart(towing.trailerLines, given.lines),
  };
}

function completeTowed(air: AirFile): complete.CompleteTowed {
  const given = air.towed ?? {};
  return {
    lines: fillPart(towing.trailerLines, given.lines),
    springValve: fillPart(towing.trailerSpringValve, given.springValve),
    emergencyValve: fillPart(towing.emergencyValve, given.emergencyValve),
  };
}

type NeedleFile = NonNullable<AirFile["gauges"]>[number];

/** Unless the file says otherwise there is a switch and a needle for each service tank. */
function completeCab(file: VehicleFile, air: AirFile): complete.CompleteCab {
  const service = ["primary", "secondary"].flatMap((circuit) => feedersOf(file, air, `footValve.${circuit}`).feeders);
  const tanks = service.filter(
    (name, i) => service.indexOf(name) === i && air.reservoirs.some((one) => one.id === name),
  );
  const needles: readonly NeedleFile[] = air.gauges ?? tanks.map((name) => ({ id: name, shows: name }));
  return {
    watches: air.warning?.watches ?? tanks,
    lowAir: fillPart(lowAirWarning, air.warning?.lowAir),
    stopLamp: fillPart(stopLamp, air.warning?.stopLamp),
    gauges: needles.map((one) => ({ id: one.id, shows: one.shows, values: fillPart(gauge, one) })),
  };
}
