import type { CompleteVehicle } from "@brakeyard/vehicle";
import type { Check, Comparison } from "../src/check.ts";
import { between, nearShare, rising } from "../src/compare.ts";
import { clause, mean, psiText } from "./kinds.ts";
import { AT_THE_END, builtUp, freeStrokes, type Setup, type VehicleRig, type Yard } from "./yard.ts";

const BUS = "legal-minimum-bus";
const PRESSES = 6;
const ENDS = ["front.left", "front.right", "rear.left", "rear.right"] as const;

/** One full or partial press: primary tank before, at its lowest with the pedal down, and 30 s after release, psi absolute. */
interface Press {
  readonly before: number;
  readonly atOnce: number;
  readonly after: number;
}

function press(rig: VehicleRig, travel: number): Press {
  const before = rig.absolutePsi("primary");
  const atOnce = rig.pedal(travel).wait(2).absolutePsi("primary");
  return { before, atOnce, after: rig.pedal(0).wait(30).absolutePsi("primary") };
}

function presses(yard: Yard, setup: Setup): Press[] {
  const rig = yard(BUS, { start: builtUp(120), ...setup }).wait(5);
  return Array.from({ length: PRESSES }, () => press(rig, 1));
}

const shareOf = ({ before, after }: Press) => 100 * (1 - after / before);
const sharesText = (all: readonly Press[]) => all.map((p) => `1/${(100 / shareOf(p)).toFixed(1)}`).join(", ");

function aboutThirteenth(what: string, all: readonly Press[], reason: string): Comparison[] {
  return all.map((one, i) =>
    nearShare({
      what: `${what}, press ${i + 1} from ${psiText(one.before - 14.7)}: share of absolute pressure`,
      unit: "%",
      got: shareOf(one),
      expected: 100 / 13,
      share: 0.15,
      printed: "1/13 = 7.69 %",
      reason,
    }),
  );
}

const e02a = (yard: Yard): Check =>
  clause({
    id: "E-02a",
    title: "Each full application on a 12 x vehicle costs about 1/13 of absolute pressure",
    source: {
      text: "49 CFR 571.121 S5.1.2.1: tanks of 12 times the chambers at full travel, so tanks 12 and chambers 1 share the air of 12",
      seen: "read in part",
    },
    problem:
      "Engine off, every rod at the end of its chamber. Six full presses of 2 s, each read 30 s after letting go. First with all air held at wall temperature, where the rule is derived, then in the full model.",
    inputs: [`${BUS} from 120 psi (supply tank 121), rods at the end of their chambers`],
    run() {
      const held = presses(yard, { freeStrokesM: AT_THE_END, isothermal: true });
      const full = presses(yard, { freeStrokesM: AT_THE_END });
      return {
        comparisons: [
          ...aboutThirteenth(
            "air at wall temperature",
            held,
            "about: pipes and hoses hold another tenth beside the chambers",
          ),
          ...aboutThirteenth(
            "full model",
            full,
            "about: the same, less the warmth of the air in the chambers when it is let go",
          ),
        ],
        beside: [
          `at wall temperature ${sharesText(held)}; full model ${sharesText(full)}. Air squeezed into a chamber is warm, so 2 s later less of it fills the same volume; and after 30 s a tank still has some of its cooling to make up.`,
        ],
      };
    },
  });

const e02b = (yard: Yard): Check =>
  clause({
    id: "E-02b",
    title: "Read 30 s after release; the reading at once after the press is 1.5 to 3.5 psi lower",
    problem: "The same presses: tank with the pedal still down after 2 s, against the tank 30 s after letting go.",
    inputs: [`${BUS} from 120 psi (supply tank 121), rods at the end of their chambers`],
    run: () => ({
      comparisons: presses(yard, { freeStrokesM: AT_THE_END }).map((one, i) =>
        between({
          what: `press ${i + 1} from ${psiText(one.before - 14.7)}: reading at once is lower by`,
          unit: "psi",
          got: one.after - one.atOnce,
          low: 1.5,
          high: 3.5,
          reason: "as stated",
        }),
      ),
    }),
  });

const e02c = (yard: Yard): Check =>
  clause({
    id: "E-02c",
    title: "A well adjusted vehicle spends less on a full application",
    source: { text: "derived: at 60, 80 and 100 % of rated travel, 120 psi falls by 7, 8 and 10 psi", seen: "derived" },
    problem: "Engine off. Two full presses of 2 s, each read 30 s after, at three adjustments. The mean of the two.",
    inputs: [
      `${BUS} from 120 psi (supply tank 121): free strokes 0.55 in as adjusters hold them; 0.95 and 1.1 in, which is about the readjustment limit of 1.75 and 2 in at 90 psi; rods at the end of their chambers`,
    ],
    run() {
      const cost = (freeStrokesM: Record<string, number>) =>
        mean(
          presses(yard, { freeStrokesM })
            .slice(0, 2)
            .map((one) => one.before - one.after),
        );
      const costs = [cost(freeStrokes(0.55, 0.55)), cost(freeStrokes(0.95, 1.1)), cost(AT_THE_END)];
      return {
        comparisons: [
          rising({
            what: "psi for a full press: adjusted, at the limit, at the end",
            unit: "psi",
            values: costs,
            least: 0.5,
            reason: "a longer stroke takes more air",
          }),
          between({
            what: "well adjusted",
            unit: "psi",
            got: costs[0]!,
            low: 6,
            high: 9,
            reason: "between the sums for 60 and 80 % of travel, a psi either way",
          }),
        ],
      };
    },
  });

/** Air in the chambers beyond what rests there, Pa m3: absolute pressure times volume, less the open air's in the volume at rest. */
function thrownAway(rig: VehicleRig, vehicle: CompleteVehicle): number {
  const open = rig.model.atmosphere.pressurePa;
  return ENDS.reduce((sum, name) => {
    const [axle, side] = name.split(".") as [string, "left" | "right"];
    const wheel = vehicle.axles.find((one) => one.id === axle)!.brakes![side];
    const atRest = wheel.ratedVolume.si - wheel.area.si * wheel.fullStroke.si;
    const volume = atRest + wheel.area.si * rig.value(`stroke.${name}`);
    return sum + (open + rig.value(`pressure.${name}.service`)) * volume - open * atRest;
  }, 0);
}

/** Cost of the second of two presses (the first leaves the tanks as the second finds them), psi, and what it threw away. */
function costOf(yard: Yard, psi: number | "full", setup: Setup): { cost: number; thrown: number } {
  const rig = yard(BUS, { start: builtUp(110), ...setup });
  const travel = psi === "full" ? 1 : rig.travelFor(psi);
  rig.wait(5).pedal(travel).wait(2).pedal(0).wait(30);
  const before = rig.psi("primary");
  const thrown = thrownAway(rig.pedal(travel).wait(2), rig.vehicle);
  return { cost: before - rig.pedal(0).wait(30).psi("primary"), thrown };
}

const e02d = (yard: Yard): Check =>
  clause({
    id: "E-02d",
    title: "Light applications cost in proportion",
    source: {
      text: "derived: each release throws away chamber pressure times chamber volume, absolute, less what rests there",
      seen: "derived",
    },
    problem:
      "Engine off. Two presses of 2 s to the same delivery, the second one counted 30 s after; its cost over that of a full press, against the air in the chambers just before release over the same. Light presses also leave the rods short, so they cost less than their share of pressure.",
    inputs: [
      `${BUS} from 110 psi (supply tank 111), free strokes of the file and rods at the end; 20, 40 and 60 psi delivered`,
    ],
    run: () => ({
      comparisons: (["as adjusted", "at the end"] as const).flatMap((rods) => {
        const setup = rods === "at the end" ? { freeStrokesM: AT_THE_END } : {};
        const full = costOf(yard, "full", setup);
        return [20, 40, 60].map((psi) => {
          const light = costOf(yard, psi, setup);
          return nearShare({
            what: `rods ${rods}, ${psi} psi: cost ${light.cost.toFixed(2)} of ${full.cost.toFixed(2)} psi`,
            unit: "of a full press",
            got: light.cost / full.cost,
            expected: light.thrown / full.thrown,
            share: 0.25,
            reason: "pipes up to the chambers count more in a light press",
          });
        });
      }),
    }),
  });

/** Presses until the first service tank is below 60 psi. */
function countToWarning(rig: VehicleRig, travel: number): number {
  rig.wait(5);
  let count = 0;
  while (Math.min(rig.psi("primary"), rig.psi("secondary")) >= 60 && count < 100) {
    rig.press(travel, 2, 30);
    count += 1;
  }
  return count;
}

const e02e = (yard: Yard): Check =>
  clause({
    id: "E-02e",
    title: "A legal-minimum vehicle gives five to six full applications from 100 to 60 psi",
    source: { text: "derived: 12/13 of 114.7 psi each time, first circuit to 60 counts", seen: "derived" },
    problem: "Engine off. Full presses of 2 s, 30 s apart, until the first service tank is below 60 psi.",
    inputs: [`${BUS} from 100 psi (supply tank 101), rods at the end of their chambers`],
    run() {
      const count = (bus: string, psi: number | "full", setup: Setup = {}) => {
        const rig = yard(bus, { start: builtUp(100), ...setup });
        return countToWarning(rig, psi === "full" ? 1 : rig.travelFor(psi));
      };
      return {
        comparisons: [
          between({
            what: "full presses",
            unit: "presses",
            got: count(BUS, "full", { freeStrokesM: AT_THE_END }),
            low: 4.5,
            high: 6.5,
            printed: "5 to 6",
            reason: "as derived",
          }),
        ],
        beside: [
          `well adjusted: ${count(BUS, "full")} on this bus; on bus-a, whose tanks are larger, ${count("bus-a", "full")} full and ${count("bus-a", 40)} at 40 psi. First-order sums give 7 to 10 and 13 to 18 there: they take the stroke of a full press for every press, and no warmth.`,
        ],
      };
    },
  });

export const fullApplications = (yard: Yard): readonly Check[] => [
  e02a(yard),
  e02b(yard),
  e02c(yard),
  e02d(yard),
  e02e(yard),
];
