import {
  addLine,
  endVolumeM3,
  type LineParams,
  lineVolumeM3,
  mix,
  SOUND_SPEED,
  segmentCount,
  tubeFlow,
} from "@brakeyard/engine";
import type { Check, Comparison } from "../src/check.ts";
import { nearShare } from "../src/compare.ts";
import { bench, endlessStore } from "../src/parts.ts";
import { quadrature } from "../src/quadrature.ts";
import { PSI, Rig } from "../src/rig.ts";

const SOURCE_PSI = 100;
const AIR_PA = 101_325;
const SOURCE_PA = AIR_PA + SOURCE_PSI * PSI;
/** What hangs at the far end: the load that UN R13 puts there. */
const END_M3 = 385e-6;
const LENGTHS_M = [3, 10, 20];
const BORE_M = 0.0095;

/** When the far end has 10 % of the source, s, by the product's own line. */
export function arrivalS(line: LineParams, endM3: number): number {
  const net = bench(true);
  const source = endlessStore(net, "source");
  const near = net.line("near", { volumeM3: endVolumeM3(line) / 2 });
  const far = net.line("far", { volumeM3: endM3 + endVolumeM3(line) / 2 });
  const open = net.control({ id: "valve", kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0]!;
  net.orifice("valve", source, near, { conductance: 1e-6, criticalRatio: 0.5 }, { factors: [open] });
  addLine(net, "line", { from: near, to: far }, line);
  net.watch({
    id: "arrived",
    mix: mix(-0.1 * SOURCE_PSI * PSI, [far.pressure, 1], [net.atmosphere.pressure, -1]),
    risingText: "10 %",
    fallingText: "",
  });
  const rig = new Rig(net.compile(), {
    start: { nodes: { source: { gaugePressurePa: SOURCE_PSI * PSI } } },
    tolerance: 1e-6,
  });
  rig.set("valve", 1).wait(2);
  return rig.eventTime("arrived", true);
}

/** Length over the speed of sound, and then the filling of line and load through the whole line, as if it were one orifice. */
export function expectedS(line: LineParams, endM3: number): number {
  const { conductance, criticalRatio: b } = tubeFlow(line);
  const volume = endM3 + lineVolumeM3(line);
  const slowness = (p: number) => {
    const r = p / SOURCE_PA;
    const share = r <= b ? 1 : Math.sqrt(1 - ((r - b) / (1 - b)) ** 2);
    return volume / (287.05287 * 293.15 * conductance * SOURCE_PA * 1.185 * share);
  };
  return line.lengthM / SOUND_SPEED + quadrature(slowness, AIR_PA, AIR_PA + 0.1 * SOURCE_PSI * PSI);
}

function compare(lengthM: number): Comparison {
  const line = { lengthM, boreM: BORE_M };
  return nearShare({
    what: `${lengthM} m of ${BORE_M * 1000} mm bore (${segmentCount(line)} segments): first 10 % at the far end`,
    unit: "s",
    got: arrivalS(line, END_M3),
    expected: expectedS(line, END_M3),
    share: 0.2,
    reason: "what the project asks of its lines",
  });
}

/** Other bores, and a far end as small as the pilot space of a valve: for the reader, not judged. */
const SMALL_M3 = 50e-6;

function shown(lengthM: number, boreM: number, endM3: number): string {
  const line = { lengthM, boreM };
  const [got, expected] = [arrivalS(line, endM3), expectedS(line, endM3)];
  const off = ((got / expected - 1) * 100).toFixed(0);
  return `${lengthM} m of ${boreM * 1000} mm, ${endM3 * 1e6} cm3 at its end: ${(got * 1000).toFixed(1)} ms, expected ${(expected * 1000).toFixed(1)} (${off} %)`;
}

export const lines: Check = {
  id: "LINES",
  title: "When pressure arrives at the far end of a line",
  kind: "standard",
  source: { text: "L / a with a = 343 m/s (from memory) plus filling after ISO 6358 by quadrature", seen: "derived" },
  problem:
    "A line is opened to 100 psi in one step; 385 cm3 hangs at its far end. The product's lines are chains of volumes and conductances and know no sound wave; the number of segments is chosen so that the first 10 % comes when it should.",
  inputs: ["3, 10 and 20 m of 9.5 mm bore, air at wall temperature, source held"],
  run: () => ({
    comparisons: LENGTHS_M.map(compare),
    beside: [
      ...LENGTHS_M.map((lengthM) => shown(lengthM, 0.00635, END_M3)),
      ...LENGTHS_M.map((lengthM) => shown(lengthM, 0.0127, END_M3)),
      ...LENGTHS_M.map((lengthM) => shown(lengthM, BORE_M, SMALL_M3)),
    ],
    disagreement:
      "With next to nothing at the far end the chain is early, most of all a short one: there the sound wave itself is most of the time, 3 ms a metre.",
  }),
};
