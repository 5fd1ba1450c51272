import { GAS_CONSTANT, REFERENCE_DENSITY, REFERENCE_TEMPERATURE_K } from "../numerics/gas.ts";
import type { FlowSize, Network, Port, Signal } from "./shared.ts";

/** Critical ratio of a leak: a sharp hole. @source [PhysicsAir] 1.2 "b 0.3 a good first guess" */
export const LEAK_CRITICAL_RATIO = 0.3;

/** A round hole: C [dm3/(s bar)] = 0.199 Cd A [mm2], Cd 0.8. @source [PhysicsAir] 1.2 */
export function holeFlow(diameterM: number): FlowSize {
  const areaMm2 = 0.7853981633974483 * diameterM * diameterM * 1e6;
  return { conductance: 0.199e-8 * 0.8 * areaMm2, criticalRatio: LEAK_CRITICAL_RATIO };
}

/**
 * A leak stated as a loss of pressure: `ratePaPerS` at `gaugePa` in a settled volume. It is a choked orifice with
 * w = V p' / (R T) at that pressure.
 */
export function rateFlow(spec: {
  ratePaPerS: number;
  absolutePa: number;
  volumeM3: number;
  temperatureK: number;
}): FlowSize {
  const flow = (spec.volumeM3 * spec.ratePaPerS) / (GAS_CONSTANT * spec.temperatureK);
  const warmth = Math.sqrt(REFERENCE_TEMPERATURE_K / spec.temperatureK);
  return { conductance: flow / (REFERENCE_DENSITY * spec.absolutePa * warmth), criticalRatio: LEAK_CRITICAL_RATIO };
}

/** A leak from a port to the open air; `factors` switch it on. Shows `flow.leak.NAME`. */
export function addLeak(net: Network, name: string, port: Port, size: FlowSize, factors: readonly Signal[]): void {
  const hole = net.orifice(`leak.${name}`, port, net.atmosphere, size, { factors });
  net.flowChannel(`leak.${name}`, [hole, 1]);
}
