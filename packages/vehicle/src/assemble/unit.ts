import type { Port } from "@brakeyard/engine";
import type { CompleteAir, CompleteAxle, CompleteBrakes, CompleteVehicle, Wheel } from "../complete/complete.ts";
import type { Plant } from "./plant.ts";

/** Names of everything in a trailer begin so, alone or coupled, so that they never clash with the tractor's. */
export const TRAILER = "trailer.";

/** One vehicle within the plant: a power unit or a trailer. */
export interface Unit {
  readonly plant: Plant;
  readonly vehicle: CompleteVehicle;
  readonly air: CompleteAir;
  readonly prefix: string;
  readonly chambers: ReadonlyMap<string, Chamber>;
}

export type Side = "left" | "right";
export const SIDES: readonly Side[] = ["left", "right"];

/** A brake chamber's ports. */
export interface Chamber {
  readonly name: string;
  readonly axle: CompleteAxle;
  readonly brakes: CompleteBrakes;
  readonly side: Side;
  readonly wheel: Wheel;
  readonly service: Port;
  readonly spring: Port | undefined;
}

/** An axle that has brakes. */
export type BrakedAxle = CompleteAxle & { readonly brakes: CompleteBrakes };

/** Whether an axle has brakes. */
export function isBraked(axle: CompleteAxle): axle is BrakedAxle {
  return axle.brakes !== null;
}

/** Axles with a valve of their own. */
export function leadAxles(vehicle: CompleteVehicle): readonly BrakedAxle[] {
  return vehicle.axles.filter(isBraked).filter((axle) => axle.brakes.application.shares === null);
}

/** An axle and those that hang on its valve. */
export function groupOf(vehicle: CompleteVehicle, lead: BrakedAxle): readonly BrakedAxle[] {
  return vehicle.axles.filter(isBraked).filter((axle) => axle === lead || axle.brakes.application.shares === lead.id);
}

/** Chambers of a group of axles, left before right. */
export function chambersOf(unit: Unit, axles: readonly BrakedAxle[]): readonly Chamber[] {
  return axles.flatMap((axle) => SIDES.map((side) => unit.chambers.get(`${unit.prefix}${axle.id}.${side}`) as Chamber));
}

/** Chambers with a power spring. */
export function springChambers(unit: Unit): readonly Chamber[] {
  return [...unit.chambers.values()].filter((chamber) => chamber.spring !== undefined);
}
