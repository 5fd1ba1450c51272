import { pow } from "@brakeyard/units";
import type { FlowSize, Network, Port } from "./shared.ts";

/** A pipe or hose: a chain of equal volumes and conductances, never a stored delay. */
export interface LineParams {
  readonly lengthM: number;
  readonly boreM: number;
}

/** Speed of sound in air at 20 C, m/s. @source [PhysicsAir] 1.2 */
export const SOUND_SPEED = 343;

/** Sonic conductance and critical ratio of a smooth tube. @source [ISO6358] annex, as given in [PhysicsAir] 1.2, from memory */
export function tubeFlow({ lengthM, boreM }: LineParams): FlowSize {
  const conductance = (0.029 * boreM * boreM) / Math.sqrt(lengthM / pow(boreM, 1.25) + 510);
  return { conductance, criticalRatio: Math.min(0.9, (474 * conductance) / (boreM * boreM)) };
}

/** Segments in a chain: one for each 2.5 m or part of it, so that the first pressure arrives when it should (test/line.test.ts). */
export function segmentCount(lengthM: number): number {
  return Math.max(1, Math.floor(lengthM / 2.5 + 0.999));
}

export function lineVolumeM3({ lengthM, boreM }: LineParams): number {
  return 0.7853981633974483 * boreM * boreM * lengthM;
}

/**
 * Joins two ports by a line; its air stands in between. n orifices in series with a total conductance C have C n^(1/3) each
 * (1/C^3 adds up). Half a segment's volume belongs to each end port, which the caller counts in: see {@link endVolumeM3}.
 */
export function addLine(net: Network, name: string, ports: { from: Port; to: Port }, params: LineParams): void {
  const n = segmentCount(params.lengthM);
  const total = tubeFlow(params);
  const each: FlowSize = { conductance: total.conductance * pow(n, 1 / 3), criticalRatio: total.criticalRatio };
  const volumeM3 = lineVolumeM3(params) / n;
  const inner = Array.from({ length: n - 1 }, (_, i) => net.line(`${name}.${i + 1}`, { volumeM3 }));
  const stations = [ports.from, ...inner, ports.to];
  const [first] = stations.slice(1).map((to, i) => net.orifice(`${name}.${i + 1}`, stations[i], to, each));
  net.flowChannel(name, [first, 1]);
}

/** Volume of a line that its two end ports carry between them when it has n segments: one segment's worth. */
export function endVolumeM3(params: LineParams): number {
  return lineVolumeM3(params) / segmentCount(params.lengthM);
}
