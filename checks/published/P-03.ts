import type { Check } from "../src/check.ts";
import { atMost, near } from "../src/compare.ts";
import { PSI, timeAbove } from "../src/rig.ts";
import { vehicle } from "../src/yard.ts";
import { freeStrokes, lastAbove, recordChambers, standing, TANKS } from "../src/yard-tools.ts";

/** Free stroke of the published sizing, on which its 0.27 s rests. */
const FREE_IN = 0.66;

function applied(isothermal: boolean) {
  const bus = vehicle("default-bus");
  const yard = standing(bus, 100, { isothermal, held: TANKS, freeStrokesM: freeStrokes(bus, FREE_IN) });
  yard.wait(1).press();
  const traces = recordChambers(yard, 1.5);
  const rear = timeAbove(traces["pressure.rear.left.service"]!, 60 * PSI);
  return { rear, last: lastAbove(traces, 60) };
}

export const p03: Check = {
  id: "P-03",
  title: "Full pedal from 100 psi: every chamber to 60 psi",
  kind: "published case",
  source: { text: "FMVSS 121 S5.3.3 (NHTSA letter of 23 Jul 1976); 0.27 s is a first-order sizing", seen: "read" },
  problem:
    "Reservoirs held at 100 psi, brakes at legal adjustment, pedal to the floor in one step. The clock starts at the first movement of the pedal.",
  inputs: ["default bus; free stroke 0.66 in everywhere, as in the sizing; tanks so large that they hold 100 psi"],
  run() {
    const full = applied(false);
    return {
      comparisons: [
        atMost({
          what: "last chamber to 60 psi",
          unit: "s",
          got: full.last,
          limit: 0.45,
          ordinary: { low: 0.18, high: 0.45, source: "common practice, no source" },
        }),
        near({
          what: "rear chamber (type 30) to 60 psi",
          unit: "s",
          got: full.rear,
          expected: 0.27,
          within: 0.08,
          printed: "about 0.27",
          reason: "published with the case",
        }),
      ],
      beside: [
        `air held at wall temperature: rear ${applied(true).rear.toFixed(3)} s; the sizing was isothermal with one conductance of 2.5 and 50 ms of delay, the product has lines, relay and quick release`,
      ],
      disagreement:
        "The typical conductances of relay and quick-release valve were fitted once so that this row and P-04 come out together; so it is not a prediction.",
    };
  },
};
