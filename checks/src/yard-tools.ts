import { toSi } from "@brakeyard/units";
import type { CompleteVehicle } from "@brakeyard/vehicle";
import { PSI, type Trace, timeAbove, timeBelow } from "./rig.ts";
import type { Edit, Yard, YardOptions } from "./yard.ts";
import { type Named, yard } from "./yard.ts";

export const INCH = toSi("length", 1, "in");

/** Tanks that stand ahead of the brakes on the vehicles used here. */
export const TANKS = ["supply", "primary", "secondary"] as const;

/** Mean pressure of tanks weighted by their volumes, psi: what they would all read, settled, if joined. */
export function meanPsi(of: Yard, tanks: readonly string[] = TANKS): number {
  const nodes = of.model.nodes.filter((node) => tanks.includes(node.name));
  const volume = nodes.reduce((sum, node) => sum + node.volumeM3, 0);
  return nodes.reduce((sum, node) => sum + of.psi(node.name) * node.volumeM3, 0) / volume;
}

/** The same free stroke at every chamber, in. */
export function freeStrokes(of: CompleteVehicle, inches: number): Record<string, number> {
  const names = of.axles.flatMap((axle) => (axle.brakes ? [`${axle.id}.left`, `${axle.id}.right`] : []));
  return Object.fromEntries(names.map((name) => [name, inches * INCH]));
}

/** Chambers of a vehicle, `rear.left` and so on; a trailer's in a combination begin with `trailer.`. */
export function chambersOf(of: Yard): readonly string[] {
  return of.assembly.chambers;
}

/** Service pressure of every chamber while something is done, recorded tick by tick. */
export function recordChambers(of: Yard, seconds: number): Readonly<Record<string, Trace>> {
  const channels = chambersOf(of).map((name) => `pressure.${name}.service`);
  return of.record(channels, seconds);
}

/** Time at which the last of several traces reaches a gauge pressure, psi. */
export function lastAbove(traces: Readonly<Record<string, Trace>>, psi: number): number {
  return Math.max(...Object.values(traces).map((trace) => timeAbove(trace, psi * PSI)));
}

/** Time at which the last of several traces has fallen to a gauge pressure, psi. */
export function lastBelow(traces: Readonly<Record<string, Trace>>, psi: number): number {
  return Math.max(...Object.values(traces).map((trace) => timeBelow(trace, psi * PSI)));
}

/** A vehicle standing at a pressure, springs off, key on, engine stopped. */
export function standing(named: Named, psi: number, options: YardOptions = {}): Yard {
  const start = { psi, parking: "in", trailerSupply: "in", key: 1, loaded: false, ...options.start } as const;
  return yard(named, { ...options, start });
}

/** Changes the volume of tanks in a file, L. */
export function tankLitres(litres: Readonly<Record<string, number>>): Edit {
  return (file) => {
    for (const tank of file.air.reservoirs) {
      const value = litres[tank.id];
      if (value !== undefined) tank.volume = { value, unit: "L", from: "plate" };
    }
  };
}

/** Changes the displacement of the compressor in a file, cm3. */
export function displacementCm3(value: number): Edit {
  return (file) => {
    file.air.compressor.displacement = { value, unit: "cm3", from: "plate" };
  };
}

/** Full application, hold, full release, wait. */
export function fullApplication(of: Yard, holdS: number, restS: number): void {
  of.press().wait(holdS).release().wait(restS);
}
