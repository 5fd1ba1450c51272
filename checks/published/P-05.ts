import type { Check } from "../src/check.ts";
import { atMost } from "../src/compare.ts";
import { PSI } from "../src/rig.ts";
import { vehicle } from "../src/yard.ts";
import { chambersOf, freeStrokes, lastAbove, recordChambers, standing } from "../src/yard-tools.ts";

const CUT_IN_PSI = 105;
/** Closest adjustment: the low end of typical free strokes. */
const CLOSE_IN = 0.375;

export const p05: Check = {
  id: "P-05",
  title: "Response to a pedal stroke of 0.2 s",
  kind: "published case",
  source: {
    text: "71/320/EEC Annex III (2007-01-01): conditions and the 0.2 s stroke read; 0.6 s read for a sister text, from memory for UN R13 Annex 6",
    seen: "read in part",
  },
  problem:
    "Reservoirs at cut-in, closest adjustment, no refill, pedal from rest to the floor evenly in 0.2 s. From the start of the movement to 75 % of the final pressure at the least favoured cylinder.",
  inputs: [`default bus, tanks at ${CUT_IN_PSI} psi, free stroke ${CLOSE_IN} in`],
  run() {
    const bus = vehicle("default-bus");
    const yard = standing(bus, CUT_IN_PSI, { freeStrokesM: freeStrokes(bus, CLOSE_IN) });
    yard.wait(1).ramp("pedal", 0, 1, 0.2);
    const traces = recordChambers(yard, 4);
    const final = Math.max(...chambersOf(yard).map((name) => yard.value(`pressure.${name}.service`)));
    return {
      comparisons: [
        atMost({
          what: `last cylinder to 75 % of its final ${(final / PSI).toFixed(1)} psi`,
          unit: "s",
          got: lastAbove(traces, (0.75 * final) / PSI),
          limit: 0.6,
          ordinary: { low: 0.25, high: 0.6, source: "common practice, no source" },
        }),
      ],
    };
  },
};
