import type { FaultSpec } from "@brakeyard/vehicle";
import type { Check, Comparison } from "../src/check.ts";
import { below, between, near } from "../src/compare.ts";
import { clause } from "./kinds.ts";
import { builtUp, type VehicleRig, withoutAntiCompounding, type Yard } from "./yard.ts";

const HOLE_M = 0.0015;
const WHERE = "rear.left";

type Brake = "parked" | "released";

const standing = (brake: Brake) => builtUp(110, { parking: brake === "parked" ? "out" : "in" });

/** What leaves through the hole 30 s after it opens, kg/s, and what the lowest tank loses in the next two minutes, psi/min. */
function leaks(rig: VehicleRig, hole: string, pedalPsi: number): { flow: number; psiPerMin: number } {
  rig.wait(60).break(hole);
  rig.pedal(pedalPsi > 0 ? rig.travelFor(pedalPsi) : 0).wait(30);
  const flow = rig.value(`flow.leak.${hole}`);
  const before = lowestTank(rig);
  rig.wait(120);
  return { flow, psiPerMin: (before - lowestTank(rig)) / 2 };
}

function lowestTank(rig: VehicleRig): number {
  return Math.min(rig.psi("primary"), rig.psi("secondary"));
}

function tight(what: string, { flow, psiPerMin }: { flow: number; psiPerMin: number }): Comparison[] {
  return [
    near({
      what: `${what}: air through the hole`,
      unit: "g/min",
      got: 60_000 * flow,
      expected: 0,
      within: 0.05,
      reason: "nothing stands behind the hole; the source of the chamber's last breath is spent after 30 s",
    }),
    below({
      what: `${what}: needle`,
      unit: "psi/min",
      got: psiPerMin,
      bound: 0.25,
      reason: "settling after a press may still show, a leak may not",
    }),
  ];
}

function leaking(what: string, { flow, psiPerMin }: { flow: number; psiPerMin: number }): Comparison[] {
  return [
    between({
      what: `${what}: air through the hole`,
      unit: "g/min",
      got: 60_000 * flow,
      low: 20,
      high: 200,
      reason: "a 1.5 mm hole at 50 to 110 psi passes 40 to 110 g/min",
    }),
    between({
      what: `${what}: needle`,
      unit: "psi/min",
      got: psiPerMin,
      low: 1,
      high: 60,
      reason: "it can be read in a minute",
    }),
  ];
}

interface Place {
  readonly letter: string;
  readonly title: string;
  readonly spec: FaultSpec;
  readonly leaksWhen: (brake: Brake, pedalDown: boolean) => boolean;
}

const size = { holeM: HOLE_M };
const PLACES: readonly Place[] = [
  {
    letter: "a",
    title: "A torn service diaphragm leaks only with the pedal down",
    spec: { name: "torn", kind: "tornServiceDiaphragm", where: WHERE, size },
    leaksWhen: (_, pedalDown) => pedalDown,
  },
  {
    letter: "b",
    title: "A spring-side leak leaks only when the parking brake is released",
    spec: { name: "torn", kind: "springSideLeak", where: WHERE, size },
    leaksWhen: (brake) => brake === "released",
  },
  {
    letter: "c",
    title: "An upstream leak leaks always",
    spec: { name: "torn", kind: "leak", where: "primary", size },
    leaksWhen: () => true,
  },
];

const STATES = [
  ["released", 0],
  ["released", 60],
  ["parked", 0],
  ["parked", 60],
] as const;

function placeCheck(yard: Yard, { letter, title, spec, leaksWhen }: Place): Check {
  return clause({
    id: `E-04${letter}`,
    title,
    problem:
      "Engine off, 1 min of rest, then a 1.5 mm hole. Parked and released, pedal up and held at 60 psi: air through the hole after 30 s and the needle over the two minutes after that. With anti-compounding the foot brake fills the springs of a parked vehicle too, so a spring-side leak is tried parked on a vehicle whose file says it has none.",
    inputs: [
      "bus-a and harrow-ridge-12 from 110 psi (supply tank 111), hole at the left rear chamber, or in the primary tank",
    ],
    run: () => ({
      comparisons: ["bus-a", "harrow-ridge-12"].flatMap((bus) =>
        STATES.flatMap(([brake, pedalPsi]) => {
          const what = `${bus}, ${brake}, pedal ${pedalPsi > 0 ? "down" : "up"}`;
          const edit = letter === "b" && brake === "parked" ? { edit: withoutAntiCompounding } : {};
          const seen = leaks(yard(bus, { ...edit, start: standing(brake), faults: [spec] }), spec.name, pedalPsi);
          return leaksWhen(brake, pedalPsi > 0) ? leaking(what, seen) : tight(what, seen);
        }),
      ),
    }),
  });
}

export const tornParts = (yard: Yard): readonly Check[] => PLACES.map((place) => placeCheck(yard, place));
