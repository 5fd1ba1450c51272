import { toSi } from "@brakeyard/units";
import type { Check } from "../src/check.ts";
import { atLeast } from "../src/compare.ts";
import { vehicle } from "../src/yard.ts";
import { chambersOf, freeStrokes, fullApplication, standing } from "../src/yard-tools.ts";

const CUT_IN_PSI = 105;
/** Force at the tyres by the accident-investigation worksheet: 60 psi on a type 30 with a 6 in arm gives 3,740 lbf, 5.5 in 3,430. */
const LBF_PER_PSI_IN2_IN = 3430 / (60 * 30 * 5.5);

/** Chamber pressure, psi, at which the default bus, laden, reaches the secondary performance of 2.5 m/s2 by that worksheet. */
function neededPsi(): number {
  const bus = vehicle("default-bus");
  const perPsi = bus.axles.reduce((sum, { brakes }) => {
    if (!brakes) return sum;
    const { area, arm } = brakes.left;
    return sum + 2 * LBF_PER_PSI_IN2_IN * (area.si / toSi("area", 1, "in2")) * (arm.si / toSi("length", 1, "in"));
  }, 0);
  const lbf = (2.5 * (bus.masses.laden?.si ?? Number.NaN)) / toSi("force", 1, "lbf");
  return lbf / perPsi;
}

export const p10: Check = {
  id: "P-10",
  title: "Eight full-stroke actuations, then a ninth: the pressures",
  kind: "published case",
  source: {
    text: "71/320/EEC Annex IV A (2007-01-01), the same as UN R13 Annex 7; 2.5 m/s2 from memory; worksheet of case P-14 read",
    seen: "read in part",
  },
  problem:
    "No refill, closest adjustment. After eight full-stroke actuations the ninth must still give the secondary performance. Forces and decelerations are not modelled yet: the pressure of the ninth is held against the pressure that the published worksheet needs for 2.5 m/s2.",
  inputs: [`default bus, laden 16,000 kg, tanks at cut-in ${CUT_IN_PSI} psi, free stroke 0.375 in`],
  run() {
    const bus = vehicle("default-bus");
    const yard = standing(bus, CUT_IN_PSI, { freeStrokesM: freeStrokes(bus, 0.375) });
    for (let i = 0; i < 8; i++) fullApplication(yard, 3, 5);
    const left = Math.min(yard.psi("primary"), yard.psi("secondary"));
    yard.press().wait(3);
    const ninth = Math.min(...chambersOf(yard).map((name) => yard.psi(`${name}.service`)));
    return {
      comparisons: [
        atLeast({
          what: "lowest chamber at the ninth application",
          unit: "psi",
          got: ninth,
          limit: neededPsi(),
          ordinary: {
            low: 45,
            high: 80,
            source: "table of P-09 from cut-in: 12 to 15 x tanks, 55 to 80 % strokes (derived)",
          },
        }),
      ],
      beside: [`tanks stand at ${left.toFixed(1)} psi after the eight`],
    };
  },
};
