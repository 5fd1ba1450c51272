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

/** Shorter than this a line is one orifice: its delay is under 5 ms. */
const SHORT_M = 1.5;
/** Bore up to which four segments meet the arrival time, m. */
const NARROW_M = 0.0105;

/**
 * Segments in a chain. A chain spreads a pressure step instead of carrying it, so the number is chosen by when the first tenth arrives:
 * with a chamber's half litre at the far end it comes at length / speed of sound + filling, within 20 %, for 3, 10 and 20 m with four segments at
 * 9.5 mm bore (0.88, 0.97, 1.05 of it) and ten at 12.7 mm (0.82, 0.92, 1.04). A blind end is met worse (docs/limits.md).
 */
export function segmentCount({ lengthM, boreM }: LineParams): number {
  if (lengthM < SHORT_M) return 1;
  return boreM <= NARROW_M ? 4 : 10;
}

export function lineVolumeM3({ lengthM, boreM }: LineParams): number {
  return 0.7853981633974483 * boreM * boreM * lengthM;
}

/**
 * Joins two ports by a line; its air stands in between. n orifices in series with a total conductance C have C n^(1/3) each
 * (1/C^3 adds up). Half a segment's volume belongs to each end port, which the caller counts in: see {@link endVolumeM3}.
 */
export function addLine(net: Network, name: string, ports: { from: Port; to: Port }, params: LineParams): void {
  const n = segmentCount(params);
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
  return lineVolumeM3(params) / segmentCount(params);
}
