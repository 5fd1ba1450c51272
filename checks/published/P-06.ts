import type { Check } from "../src/check.ts";
import { near, rising } from "../src/compare.ts";
import { PSI, timeAbove } from "../src/rig.ts";
import { vehicle } from "../src/yard.ts";
import { freeStrokes, standing, TANKS } from "../src/yard-tools.ts";

const FREE_IN = [0.4, 0.55, 0.66, 0.9, 1.1];

function rearTo60(freeIn: number): number {
  const bus = vehicle("default-bus");
  const yard = standing(bus, 100, { held: TANKS, freeStrokesM: freeStrokes(bus, freeIn) });
  yard.wait(1).press();
  return timeAbove(yard.record(["pressure.rear.left.service"], 1)["pressure.rear.left.service"], 60 * PSI);
}

export const p06: Check = {
  id: "P-06",
  title: "A longer stroke is a slower rise",
  kind: "published case",
  source: {
    text: "SAE 2011-01-0751 (abstract) for the direction; the size is a first-order sizing",
    seen: "read in part",
  },
  problem: "P-03 again with free strokes from 0.4 to 1.1 in: the time of the rear chamber (type 30) to 60 psi.",
  inputs: ["default bus, tanks held at 100 psi"],
  run() {
    const times = FREE_IN.map(rearTo60);
    return {
      comparisons: [
        rising({
          what: `time to 60 psi at ${FREE_IN.join(", ")} in`,
          unit: "s",
          values: times,
          reason: "direction published",
        }),
        near({
          what: "1.1 in against 0.4 in",
          unit: "s",
          got: times.at(-1)! - times[0]!,
          expected: 0.09,
          within: 0.04,
          printed: "about +0.09",
          reason: "published with the case",
        }),
      ],
    };
  },
};
