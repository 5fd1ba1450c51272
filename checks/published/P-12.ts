import type { Check, Comparison } from "../src/check.ts";
import { atLeast, between, inOrder, near } from "../src/compare.ts";
import type { Yard } from "../src/yard.ts";
import { INCH, standing, TANKS } from "../src/yard-tools.ts";

/** Free stroke of the default bus; the model rounds the corner where the shoes are reached over 1 psi, so 95 % of it counts. */
export const FREE_IN = 0.55;
export const SHOES_REACHED = 0.95;
/** All tanks bled slowly, together and evenly: the driver's drains, cracked open in proportion to the tanks. */
function bleed(yard: Yard): Yard {
  for (const tank of yard.model.nodes.filter((node) => TANKS.some((name) => name === node.name))) {
    yard.set(`drain.${tank.name}`, 1.2 * tank.volumeM3);
  }
  return yard;
}

const lowest = (yard: Yard): number => Math.min(yard.psi("primary"), yard.psi("secondary"));

function order(): { comparisons: Comparison[] } {
  const yard = bleed(standing("default-bus", 120));
  yard.until(() => yard.value("lamp.lowAir") === 1, 900, 0.05);
  const warned = { timeS: yard.timeS, psi: lowest(yard) };
  yard.until(() => yard.strokeIn("rear.left") >= SHOES_REACHED * FREE_IN, 900, 0.05);
  const drag = { timeS: yard.timeS, psi: yard.psi("rear.left.spring") };
  yard.until(() => yard.value("control.parking") === 0, 900, 0.05);
  const popped = { timeS: yard.timeS, psi: lowest(yard) };
  yard.until(() => yard.psi("rear.left.spring") < 0.1, 900, 0.05);
  const full = yard.timeS;
  return {
    comparisons: [
      inOrder({
        what: "order while everything bleeds down",
        happened: [
          ["warning", warned.timeS],
          ["spring drag", drag.timeS],
          ["control pops", popped.timeS],
          ["springs empty: full force", full],
        ],
        reason: "published with the case",
      }),
      atLeast({
        what: "lowest service tank as the warning comes",
        unit: "psi",
        got: warned.psi,
        limit: 60,
        ordinary: { low: 60, high: 75, source: "FMVSS 121 S5.1.5 (read); 60 to 75 psi common" },
      }),
      near({
        what: "spring air as the rod reaches the shoes",
        unit: "psi",
        got: drag.psi,
        expected: 60,
        within: 7,
        printed: "below about 60",
        reason: "published with the case",
      }),
      between({
        what: "lowest service tank as the control pops",
        unit: "psi",
        got: popped.psi,
        low: 20,
        high: 45,
        reason: "licence manuals (read): 20 to 45 psi",
      }),
    ],
  };
}

/** Net rod force at a spring pressure, held against the table's own line at the stroke the rod has here. */
function force(yard: Yard, psi: number): Comparison {
  yard.until(() => yard.psi("rear.left.spring") <= psi, 1800, 0.05);
  const strokeIn = yard.value("stroke.rear.left") / INCH;
  const expected = Math.max(0, 2000 - 250 * strokeIn - 30 * yard.psi("rear.left.spring"));
  return near({
    what: `net spring force at ${psi} psi, stroke ${strokeIn.toFixed(2)} in`,
    unit: "lbf",
    got: yard.rodLbf("rear.left"),
    expected,
    within: 7 * 30,
    reason: "published with the case: 7 psi on 30 in2 (table of 3.6: 2000 lbf - 250 lbf/in - pressure x area)",
  });
}

export const p12: Check = {
  id: "P-12",
  title: "Bleeding everything down: order, and rod forces standing still",
  kind: "published case",
  source: {
    text: "operator and licence manuals (order and pressures), provincial manual p. 158 (force); table of forces derived",
    seen: "read in part",
  },
  problem:
    "All tanks bleed slowly from 120 psi, engine off, springs released at the start. In order: warning, spring drag, parking control pops, full spring force only at zero. The vehicle stands still here; decelerations belong to the model of motion, which does not exist yet. For the forces a parking control that sticks keeps the springs on the tanks' air all the way down.",
  inputs: [
    "default bus, 120 psi, drains a crack open; warning 65 psi, pop-out 30 psi; springs 2,000 lbf less 250 lbf/in",
  ],
  run() {
    const sticks = { kind: "parkingControlSticks", name: "sticks" } as const;
    const yard = standing("default-bus", 120, { faults: [sticks] });
    bleed(yard.breakIt("sticks"));
    const forces = [60, 45, 30, 20, 10, 1].map((psi) => force(yard, psi));
    return { comparisons: [...order().comparisons, ...forces] };
  },
};
