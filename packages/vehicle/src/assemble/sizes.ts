import { type FlowSize, holeFlow, tubeFlow, type WallHeat } from "@brakeyard/engine";
import { cbrt } from "@brakeyard/units";
import type { Quantity } from "../values/resolved.ts";

const PI = 3.141592653589793;

/** Critical ratio of valves, unless something better is known. @source [PhysicsAir] 1.2: 0.3 a good first guess */
export const VALVE_CRITICAL_RATIO = 0.3;

/** Pressure over which a valve seat opens fully, Pa: 1 psi. From 3 down to 0.03 psi events move by milliseconds only; narrower costs steps. */
export const SEAT_PA = 6894.757293168361;

/** Air in a valve body and its fittings, m3. Common practice, no source; a few hundredths of a litre either way change times by under 5 ms. */
export const BODY_M3 = 0.00003;

/** Valve of a given sonic conductance. */
export function valve(conductance: Quantity, share = 1): FlowSize {
  return { conductance: conductance.si * share, criticalRatio: VALVE_CRITICAL_RATIO };
}

/** Two restrictions one after the other: 1/C^3 adds up. @source [PhysicsAir] 1.2, from memory; a good fit, not exact */
export function inSeries(a: FlowSize, b: FlowSize): FlowSize {
  const cubes = a.conductance * a.conductance * a.conductance;
  const cubed = b.conductance * b.conductance * b.conductance;
  const conductance = cbrt((cubes * cubed) / (cubes + cubed));
  return { conductance, criticalRatio: Math.min(a.criticalRatio, b.criticalRatio) };
}

/** A pipe of so much length and bore. */
export function pipe(length: Quantity, bore: Quantity): { lengthM: number; boreM: number } {
  return { lengthM: length.si, boreM: bore.si };
}

/** Conductance of a pipe as one restriction. */
export function pipeFlow(length: Quantity, bore: Quantity): FlowSize {
  return tubeFlow(pipe(length, bore));
}

/** A hole of a diameter, m. */
export function hole(diameterM: number): FlowSize {
  return holeFlow(diameterM);
}

/** Diameter of a cylinder from its volume and length over diameter, m. */
export function cylinderDiameterM(volumeM3: number, slenderness: number): number {
  return cbrt((4 * volumeM3) / (PI * slenderness));
}

/** Walls of a cylinder with flat ends; `sharedEnds` of them stand against another compartment and pass no heat to the open. */
export function cylinderWalls(volumeM3: number, slenderness: number, sharedEnds = 0): WallHeat {
  const d = cylinderDiameterM(volumeM3, slenderness);
  const areaM2 = PI * d * d * (slenderness + (2 - sharedEnds) / 4);
  return { kind: "natural", areaM2, lengthM: d };
}

/** Walls of a brake chamber: a flat drum of the diaphragm's area, one third as deep as it is wide. */
export function chamberWalls(areaM2: number): WallHeat {
  const d = Math.sqrt((4 * areaM2) / PI);
  return { kind: "natural", areaM2: 2 * areaM2 + (PI * d * d) / 3, lengthM: d };
}
