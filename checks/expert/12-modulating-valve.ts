import { PSI } from "@brakeyard/engine";
import type { Check, Comparison } from "../src/check.ts";
import { below, between, near, rising } from "../src/compare.ts";
import { clause, LBF, so } from "./kinds.ts";
import { builtUp, type VehicleRig, type Yard } from "./yard.ts";

const BUS = "harrow-ridge-12";
const MANUAL = {
  text: "US Army TM 5-3810-306-20 p. 45: hold-off limited to about 95 psi; below about 55 psi in the primary tank the pedal exhausts the springs in proportion",
  seen: "read",
} as const;

/** Primary tank at a pressure, supply tank empty, secondary at 120 psi. */
function primaryAt(yard: Yard, psi: number): VehicleRig {
  const tanks = { primary: { gaugePa: psi * PSI }, supply: { gaugePa: 0 } };
  const rig = yard(BUS, { start: { tanks, otherTanksPa: 120 * PSI, parking: "in", key: 1 } });
  return rig.set("drain.primary", psi > 0 ? 0 : 1).wait(5);
}

/** Travel that asks for a delivery of the secondary, pushed by hand without the primary. */
const byHand = (rig: VehicleRig, psi: number) => rig.travelFor(psi) + rig.power.foot.values.mechanicalLag.si;

const springs = (rig: VehicleRig) => rig.psi("rear.left.spring");

/** How far the springs' air falls when the pedal asks for 40 psi, with the primary tank at a pressure. */
function fallAt(yard: Yard, primary: number): number {
  const rig = primaryAt(yard, primary);
  const before = springs(rig);
  return before - springs(rig.pedal(byHand(rig, 40)).wait(3));
}

const e12a = (yard: Yard): Check =>
  clause({
    id: "E-12a",
    title: "Primary gone: the pedal applies the rear springs in proportion",
    source: MANUAL,
    problem:
      "Engine off, primary and supply tanks empty. The pedal asks the secondary for 20, 30, 40 and 60 psi: air in the spring chambers and rod force at the left rear. Then with the primary at several pressures, and healthy.",
    inputs: [`${BUS}, secondary at 120 psi, parking brake released`],
    run() {
      const steps = [20, 30, 40, 60].map((psi) => {
        const rig = primaryAt(yard, 0);
        const rest = springs(rig);
        rig.pedal(byHand(rig, psi)).wait(3);
        const pressed = {
          delivery: rig.psi("secondaryDelivery"),
          spring: springs(rig),
          rod: rig.value("rodForce.rear.left") / LBF,
        };
        return { rest, ...pressed, after: springs(rig.pedal(0).wait(5)), stroke: rig.value("stroke.rear.left") };
      });
      const [first, last] = [steps[0]!, steps.at(-1)!];
      const healthy = yard(BUS, { start: builtUp(120) }).wait(5);
      const off = springs(healthy);
      const moved = off - springs(healthy.pedal(healthy.travelFor(60)).wait(3));
      return {
        comparisons: [
          near({
            what: "hold-off pressure, healthy, tanks at 120 psi",
            unit: "psi",
            got: off,
            expected: 95,
            within: 5,
            reason: "about 95 psi",
          }),
          near({
            what: "fall of spring air when the healthy pedal asks for 60 psi",
            unit: "psi",
            got: moved,
            expected: 0,
            within: 1,
            reason: "nothing, while the primary lives",
          }),
          between({
            what: "fall of spring air per psi of secondary delivery, from 20 to 60 psi asked",
            unit: "",
            got: (first.spring - last.spring) / (last.delivery - first.delivery),
            low: 1,
            high: 1.3,
            reason: "1 to 1.3, from memory",
          }),
          rising({
            what: "fall of spring air at 20, 30, 40 and 60 psi",
            unit: "psi",
            values: steps.map((one) => one.rest - one.spring),
            least: 5,
            reason: "in proportion",
          }),
          between({
            what: "rod force with 60 psi asked",
            unit: "lbf",
            got: last.rod,
            low: 500,
            high: 1700,
            reason: "the springs brake, less than parked",
          }),
          ...steps.map((one, i) =>
            near({
              what: `release ${i + 1}: spring air back`,
              unit: "psi",
              got: one.after - one.rest,
              expected: 0,
              within: 5,
              reason: "fed back from the secondary, within the valve's hysteresis",
            }),
          ),
          ...changeover(yard),
        ],
      };
    },
  });

function changeover(yard: Yard): Comparison[] {
  return [
    near({
      what: "primary at 62 psi: fall of spring air with 40 psi asked",
      unit: "psi",
      got: fallAt(yard, 62),
      expected: 0,
      within: 1,
      reason: "above about 55 psi it does nothing",
    }),
    between({
      what: "primary at 48 psi: fall of spring air with 40 psi asked",
      unit: "psi",
      got: fallAt(yard, 48),
      low: 25,
      high: 55,
      reason: "below about 55 psi it works in full",
    }),
  ];
}

/** Firm or light presses of 2 s until the springs no longer come off: the rod stays past its free stroke after 4 s. */
function countPresses(yard: Yard, psi: number | "full"): { count: number; control: boolean; warned: boolean } {
  const rig = primaryAt(yard, 0);
  const { freeStroke } = rig.vehicle.axles.find((one) => one.id === "rear")!.brakes!.left;
  let count = 0;
  while (count < 40 && rig.value("stroke.rear.left") < freeStroke.si) {
    rig.press(psi === "full" ? 1 : byHand(rig, psi), 2, 4);
    count += 1;
  }
  return { count, control: rig.on("control.parking"), warned: rig.on("lamp.lowAir") };
}

const e12b = (yard: Yard): Check =>
  clause({
    id: "E-12b",
    title: "A limited number of times",
    source: {
      text: "derived: 3 to 6 firm or 8 to 12 light before the springs will not release again",
      seen: "derived",
    },
    problem:
      "Engine off, primary and supply tanks empty, secondary at 120 psi. Presses of 2 s, 4 s apart, until the left rear spring stays on.",
    inputs: [
      `${BUS}; firm is 60 psi asked and full pedal, light is 40 psi: lighter ones do not bring the linings to the drum`,
    ],
    run() {
      const [firm, full, light] = [countPresses(yard, 60), countPresses(yard, "full"), countPresses(yard, 40)];
      const often = countPresses(yard, 25);
      return {
        comparisons: [
          between({
            what: "presses with 60 psi asked",
            unit: "presses",
            got: firm.count,
            low: 2.5,
            high: 6.5,
            printed: "3 to 6",
            reason: "firm",
          }),
          between({
            what: "full presses",
            unit: "presses",
            got: full.count,
            low: 2.5,
            high: 6.5,
            printed: "3 to 6",
            reason: "firm",
          }),
          between({
            what: "presses with 40 psi asked",
            unit: "presses",
            got: light.count,
            low: 7.5,
            high: 12.5,
            printed: "8 to 12",
            reason: "light",
          }),
          below({
            what: "presses with 25 psi asked",
            unit: "presses",
            got: often.count,
            bound: 40,
            reason: "limited however light",
          }),
          so("warning lit all along", firm.warned && full.warned && light.warned, true, "the primary is gone"),
        ],
        beside: [`presses with 25 psi asked: ${often.count}; at that pressure the springs do not yet brake`],
      };
    },
  });

export const modulatingValve = (yard: Yard): readonly Check[] => [e12a(yard), e12b(yard)];
