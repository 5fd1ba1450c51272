import type { Check } from "../src/check.ts";
import { atMost } from "../src/compare.ts";
import { vehicle } from "../src/yard.ts";
import { chambersOf, freeStrokes, lastBelow, recordChambers, standing, TANKS } from "../src/yard-tools.ts";

export const p04: Check = {
  id: "P-04",
  title: "Release: every chamber from 95 psi to 5 psi",
  kind: "published case",
  source: {
    text: "FMVSS 121 S5.3.4: 95 psi (NHTSA letter of 23 Jul 1976, read); 0.55 s and 5 psi from memory",
    seen: "read in part",
  },
  problem: "Every chamber stands at 95 psi; the pedal is let go in one step. The clock starts at its first movement.",
  inputs: ["default bus; free stroke 0.66 in everywhere; tanks so large that they hold their pressure"],
  run() {
    const bus = vehicle("default-bus");
    const yard = standing(bus, 96.1, { held: TANKS, freeStrokesM: freeStrokes(bus, 0.66) });
    yard.press().wait(30);
    const from = chambersOf(yard).map((name) => yard.psi(`${name}.service`));
    yard.release();
    return {
      comparisons: [
        atMost({
          what: `last chamber from ${Math.max(...from).toFixed(1)} to 5 psi`,
          unit: "s",
          got: lastBelow(recordChambers(yard, 2), 5),
          limit: 0.55,
          ordinary: { low: 0.25, high: 0.55, source: "common practice, no source" },
        }),
      ],
    };
  },
};
