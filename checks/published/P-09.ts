import type { Check, Comparison } from "../src/check.ts";
import { near } from "../src/compare.ts";
import { type Edit, vehicle } from "../src/yard.ts";
import { fullApplication, meanPsi, standing } from "../src/yard-tools.ts";

/** Pressure left after 1, 2 ... 9 full applications from 120 psi, as tabled. */
const TABLE: Readonly<Record<number, readonly number[]>> = {
  60: [113, 107, 101, 95, 89, 84, 79, 74, 70],
  80: [112, 104, 96, 89, 83, 76, 71, 65, 60],
  100: [110, 100, 92, 84, 76, 70, 63, 57, 52],
};

/** What pressure adds to the stroke even of the hardest brake a file may state, at the mean pressure of the nine: 0.0018 in per in2. */
const GIVE_IN_PER_IN2 = 0.005;

/**
 * The table's brake: its stroke is a fixed share of the rated one however hard it is pressed, chamber and tank become equal, and no air stands
 * in hoses. So: hard shoes, free stroke as that share, no valve at the axle, and pipes as short as a file may say.
 */
function tabled(share: number): Edit {
  return (file) => {
    for (const axle of file.axles) {
      const { brakes } = axle;
      const full = brakes.fullStroke.value;
      const free = share < 1 ? share * full - GIVE_IN_PER_IN2 * brakes.area.value : full - 0.01;
      brakes.freeStroke = { value: free, unit: "in", from: "plate" };
      brakes.stiffness = { value: 3000, unit: "N/mm", from: "plate" };
      brakes.application.via = { value: "direct", from: "plate" };
      brakes.application.hoseLength = { value: 0.1, unit: "m", from: "plate" };
      brakes.application.controlLength = { value: 0.1, unit: "m", from: "plate" };
    }
    file.air.parking.springs.antiCompounding = { value: "no", from: "plate" };
  };
}

/** Settled pressure after each of nine full applications, engine stopped, springs held off. */
export function afterApplications(edit: Edit | undefined, isothermal: boolean, count = 9): number[] {
  const yard = standing(vehicle("legal-minimum-bus", edit), 120, { isothermal });
  return Array.from({ length: count }, () => {
    fullApplication(yard, 6, isothermal ? 10 : 30);
    return meanPsi(yard);
  });
}

function compare(share: number): Comparison[] {
  const got = afterApplications(tabled(share / 100), true);
  return TABLE[share]!.map((expected, i) =>
    near({
      what: `${share} % stroke, after ${i + 1}`,
      unit: "psi",
      got: got[i]!,
      expected,
      within: 3,
      printed: String(expected),
      reason: "published with the case, which was derived isothermally",
    }),
  );
}

export const p09: Check = {
  id: "P-09",
  title: "Full applications without a compressor, 12 x reservoirs",
  kind: "published case",
  source: { text: "FMVSS 121 S5.1.2.1 (volume rule), table of physics section 2.3 derived from it", seen: "derived" },
  problem:
    "Tanks of 12 x the rated chamber volume, 120 psi, no compressor: settled pressure after each full application and full release. The table makes tanks and chambers equal and vents chambers fully, isothermally.",
  inputs: [
    "legal-minimum bus; strokes fixed at 60, 80, 100 % of rated travel; no valves at the axles, short hoses; springs held off, no anti-compounding",
  ],
  run: () => ({
    comparisons: Object.keys(TABLE).flatMap((share) => compare(Number(share))),
    beside: [
      `the bus as it is, adjusted, springs off, full model, read 30 s after each release: ${list(afterApplications(undefined, false))} psi`,
      `the same with air held at wall temperature: ${list(afterApplications(undefined, true))} psi. It also fills and vents its hoses and control lines each time (0.9 L beside 3.5 L of chambers), which the table leaves out, and its relays leave the chambers some psi below the tanks at low pressure.`,
    ],
  }),
};

function list(values: readonly number[]): string {
  return values.map((value) => value.toFixed(0)).join(" ");
}
