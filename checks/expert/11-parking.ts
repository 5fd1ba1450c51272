import type { FaultSpec } from "@brakeyard/vehicle";
import type { Check, Comparison } from "../src/check.ts";
import { above, below, between, near, nearShare } from "../src/compare.ts";
import { timeBelow } from "../src/rig.ts";
import { clause, LBF, so } from "./kinds.ts";
import { builtUp, type Setup, type VehicleRig, withoutAntiCompounding, type Yard } from "./yard.ts";

const VEHICLES = ["bus-a", "harrow-ridge-12", "harrow-ridge-tipper", "legal-minimum-bus"] as const;
const BUSES = ["bus-a", "harrow-ridge-12"] as const;
const TANKS = ["primary", "secondary"] as const;

/** What parking and releasing takes from each circuit, psi, read 25 s after each release; three times over. */
function cycles(yard: Yard, id: string): number[][] {
  const rig = yard(id, { start: builtUp(100) }).wait(5);
  return [1, 2, 3].map(() => {
    const before = TANKS.map((tank) => rig.psi(tank));
    rig.set("parking", 0).wait(5).set("parking", 1).wait(25);
    return TANKS.map((tank, i) => before[i]! - rig.psi(tank));
  });
}

const e11a = (yard: Yard): Check =>
  clause({
    id: "E-11a",
    title: "Parking and releasing costs air each time",
    source: { text: "derived: 4 to 5 psi a cycle over both circuits, 3 to 9 by plumbing", seen: "derived" },
    problem: "Engine off. The control is pulled for 5 s and pushed; both service tanks 25 s later; three times over.",
    inputs: [`${VEHICLES.join(", ")} from 100 psi (supply tank 101)`],
    run: () => ({
      comparisons: VEHICLES.flatMap((id) =>
        cycles(yard, id).flatMap((costs, i) =>
          TANKS.map((tank, t) =>
            between({
              what: `${id}, cycle ${i + 1}: ${tank} tank`,
              unit: "psi",
              got: costs[t]!,
              low: 3,
              high: 9,
              reason: "spring chambers fill from both circuits",
            }),
          ),
        ),
      ),
    }),
  });

interface Held {
  readonly rodN: number;
  readonly service: number;
  readonly spring: number;
}

const PRESSED = [60, "full"] as const;
type Pressed = (typeof PRESSED)[number];

function hold(rig: VehicleRig, pressed: Pressed): Held {
  rig.pedal(pressed === "full" ? 1 : rig.travelFor(pressed)).wait(5);
  return {
    rodN: rig.value("rodForce.rear.left"),
    service: rig.psi("rear.left.service"),
    spring: rig.psi("rear.left.spring"),
  };
}

const FAILS: readonly FaultSpec[] = [{ name: "failed", kind: "antiCompoundingFailed" }];

function parked(yard: Yard, bus: string, setup: Setup = {}): VehicleRig {
  const rig = yard(bus, { ...setup, start: builtUp(120, { parking: "out" }) }).wait(5);
  return setup.faults ? rig.break("failed").wait(1) : rig;
}

/** Rod forces of the springs alone and of the pedal alone, N. */
function alone(yard: Yard, bus: string, pressed: Pressed): { springs: number; pedal: number } {
  return {
    springs: parked(yard, bus).value("rodForce.rear.left"),
    pedal: hold(yard(bus, { start: builtUp(120) }).wait(5), pressed).rodN,
  };
}

const has = (rig: VehicleRig) => rig.power.parking!.springs.antiCompounding.value === "yes";

function notAdding(yard: Yard, bus: string, pressed: Pressed): Comparison[] {
  const rig = parked(yard, bus);
  const { springs, pedal } = alone(yard, bus, pressed);
  const held = hold(rig, pressed);
  const what = `${bus}, parked, pedal ${pressed === "full" ? "full" : `to ${pressed} psi`}`;
  rig.pedal(0);
  const after = rig.record(["pressure.rear.left.service", "pressure.rear.left.spring", "rodForce.rear.left"], 5);
  const gone = timeBelow(after["pressure.rear.left.service"], 5 * 6894.757);
  const back = timeBelow(after["pressure.rear.left.spring"], 5 * 6894.757);
  return [
    so(`${what}: file says anti-compounding`, has(rig), true, "as its plates say"),
    near({
      what: `${what}: spring chamber against service chamber`,
      unit: "psi",
      got: held.spring - held.service,
      expected: 0,
      within: 5,
      reason: "service air enters it; a relay's crack pressure less",
    }),
    nearShare({
      what: `${what}: rod force over the greater of springs alone and pedal alone`,
      unit: "",
      got: held.rodN / Math.max(springs, pedal),
      expected: 1,
      share: 0.1,
      reason: "they do not add up",
    }),
    between({
      what: `${what}: springs back after the service air is gone by`,
      unit: "s",
      got: back - gone,
      low: 0.03,
      high: 2,
      reason: "a moment after the pedal",
    }),
    nearShare({
      what: `${what}: rod force 5 s after release over springs alone`,
      unit: "",
      got: after["rodForce.rear.left"].values.at(-1)! / springs,
      expected: 1,
      share: 0.02,
      reason: "the springs are back",
    }),
  ];
}

const e11b = (yard: Yard): Check =>
  clause({
    id: "E-11b",
    title: "Foot brake while parked, with anti-compounding: spring and service do not add up",
    problem:
      "Parked, engine off. Pedal held 5 s and let go. Service air enters the spring chambers and takes the springs off as it puts the service brake on; the springs come back a moment after the pedal.",
    inputs: ["bus-a and harrow-ridge-12 from 120 psi (supply tank 121), 60 psi asked and full; left rear brake"],
    run: () => ({ comparisons: BUSES.flatMap((bus) => PRESSED.flatMap((pressed) => notAdding(yard, bus, pressed))) }),
  });

function adding(yard: Yard, bus: string, pressed: Pressed, how: "not fitted" | "failed"): Comparison[] {
  const rig = parked(yard, bus, how === "failed" ? { faults: FAILS } : { edit: withoutAntiCompounding });
  const { springs, pedal } = alone(yard, bus, pressed);
  const held = hold(rig, pressed);
  const what = `${bus}, ${how}, pedal ${pressed === "full" ? "full" : `to ${pressed} psi`}`;
  return [
    so(`${what}: file says anti-compounding`, has(rig), how === "failed", "as its plates say"),
    below({
      what: `${what}: spring chamber`,
      unit: "psi",
      got: held.spring,
      bound: 1,
      reason: "no service air enters it",
    }),
    nearShare({
      what: `${what}: rod force`,
      unit: "lbf",
      got: held.rodN / LBF,
      expected: (springs + pedal) / LBF,
      share: 0.1,
      printed: `${((springs + pedal) / LBF).toFixed(0)}, springs alone and pedal alone together`,
      reason: "they add, less what the spring loses as the rod goes further out",
    }),
    above({
      what: `${what}: rod force over that of the pedal alone`,
      unit: "",
      got: held.rodN / pedal,
      bound: 1.2,
      reason: "they add",
    }),
  ];
}

const e11c = (yard: Yard): Check =>
  clause({
    id: "E-11c",
    title: "Without anti-compounding, or where it has failed, spring and service forces add",
    source: { text: "provincial manual p. 175: spring 2,000 and service 3,000 make 5,000 lbf", seen: "read" },
    problem:
      "Parked, engine off. Pedal held 5 s, with a file that says no anti-compounding, and with one that says yes but a valve that has failed.",
    inputs: ["bus-a and harrow-ridge-12 from 120 psi (supply tank 121), 60 psi asked and full; left rear brake"],
    run: () => ({
      comparisons: BUSES.flatMap((bus) =>
        (["not fitted", "failed"] as const).flatMap((how) =>
          PRESSED.flatMap((pressed) => adding(yard, bus, pressed, how)),
        ),
      ),
    }),
  });

export const parking = (yard: Yard): readonly Check[] => [e11a(yard), e11b(yard), e11c(yard)];
