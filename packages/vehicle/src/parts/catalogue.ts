import * as application from "./application.ts";
import * as cab from "./cab.ts";
import * as chassis from "./chassis.ts";
import * as parking from "./parking.ts";
import type { Part } from "./part.ts";
import * as supply from "./supply.ts";
import * as trailer from "./trailer.ts";
import { wheelEnd } from "./wheelEnd.ts";

/** A generic part and where its values stand in a vehicle file. */
export interface CatalogueEntry {
  readonly where: string;
  readonly title: string;
  readonly part: Part;
}

const entry = (where: string, title: string, part: Part): CatalogueEntry => ({ where, title, part });

/** Every generic part, in the order of a vehicle file. docs/vehicle-file.md has its tables from here. */
export const catalogue: readonly CatalogueEntry[] = [
  entry("ratings", "Ratings", chassis.ratings),
  entry("masses", "Masses", chassis.masses),
  entry("engineSpeeds", "Engine speeds", chassis.engineSpeeds),
  entry("driveline", "Driveline", chassis.driveline),
  entry("axles[]", "Axle", chassis.axle),
  entry("axles[].brakes", "Wheel end", wheelEnd),
  entry("axles[].brakes.application", "Way to the chambers", application.applicationPath),
  entry("axles[].brakes.application.relay", "Relay valve", application.relayValve),
  entry("axles[].brakes.application.quickRelease", "Quick release valve", application.quickReleaseValve),
  entry("axles[].brakes.application.loadSensing", "Load-sensing valve", application.loadSensing),
  entry("air.compressor", "Compressor driven by the engine", supply.engineCompressor),
  entry("air.compressor", "Compressor with its own motor", supply.electricCompressor),
  entry("air.governor", "Governor or pressure switch", supply.governor),
  entry("air.dischargeLine", "Discharge line", supply.dischargeLine),
  entry("air.dryer", "Air dryer", supply.dryer),
  entry("air.reservoirs[]", "Tank", supply.reservoir),
  entry("air.reservoirs[].safetyValve", "Safety valve", supply.safetyValve),
  entry("air.multiCircuitValve.circuits[]", "Circuit of a multi-circuit protection valve", supply.multiCircuit),
  entry("air.auxiliaries[]", "Auxiliary", supply.auxiliary),
  entry("air.auxiliaries[].protection", "Pressure protection valve", supply.protectionValve),
  entry("air.footValve", "Foot valve", application.footValve),
  entry("air.doubleCheckValves", "Double check valves", application.doubleCheck),
  entry("air.parking.control", "Parking control", parking.parkingControl),
  entry("air.parking.springs", "Way to the spring chambers", parking.springPath),
  entry("air.parking.springBrakeModulatingValve", "Spring brake modulating valve", parking.springBrakeModulatingValve),
  entry("air.trailerConnection.protection", "Tractor protection valve", trailer.tractorProtection),
  entry("air.trailerConnection.supplyControl", "Trailer supply control", trailer.trailerSupplyControl),
  entry("air.trailerConnection.handValve", "Hand valve", trailer.handValve),
  entry("air.trailerConnection.lines, air.towed.lines", "Lines to the couplings", trailer.trailerLines),
  entry("air.towed.springValve", "Trailer spring brake valve", trailer.trailerSpringValve),
  entry("air.towed.emergencyValve", "Trailer emergency valve", trailer.emergencyValve),
  entry("air.warning.lowAir", "Low-air warning", cab.lowAirWarning),
  entry("air.warning.stopLamp", "Stop lamp switch", cab.stopLamp),
  entry("air.gauges[]", "Gauge", cab.gauge),
];
