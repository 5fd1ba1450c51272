import type { FaultSpec } from "@brakeyard/vehicle";
import type { Check, Comparison } from "../src/check.ts";
import { atLeast, below, between, inOrder, near } from "../src/compare.ts";
import { clause, so } from "./kinds.ts";
import { builtUp, type VehicleRig, type Yard } from "./yard.ts";

/** Vehicles and one of their spring brakes. */
const VEHICLES = [
  ["bus-a", "rear"],
  ["harrow-ridge-12", "rear"],
  ["harrow-ridge-tipper", "driveFront"],
  ["legal-minimum-bus", "rear"],
] as const;

const HOLES: readonly FaultSpec[] = ["supply", "primary", "secondary"].map((where) => ({
  name: where,
  kind: "leak",
  where,
  size: { holeM: 0.0012 },
}));

function bleeding(yard: Yard, id: string, more: readonly FaultSpec[] = []): VehicleRig {
  const rig = yard(id, { start: builtUp(80, { key: 1 }), faults: [...HOLES, ...more] }).wait(5);
  for (const { name } of [...HOLES, ...more]) rig.break(name);
  return rig;
}

const better = (rig: VehicleRig) => Math.max(rig.psi("primary"), rig.psi("secondary"));
const worse = (rig: VehicleRig) => Math.min(rig.psi("primary"), rig.psi("secondary"));

/** Time at which something first happens and pressure of a tank then; NaN when it does not in ten minutes. */
function first(rig: VehicleRig, happens: () => boolean, tank = better): { timeS: number; psi: number } {
  const waited = rig.until(happens, 600, 0.05);
  return Number.isNaN(waited) ? { timeS: waited, psi: waited } : { timeS: rig.timeS, psi: tank(rig) };
}

/** The linings touch: the rod has used up its free stroke. */
function touches(rig: VehicleRig, axle: string): boolean {
  const { freeStroke } = rig.vehicle.axles.find((one) => one.id === axle)!.brakes!.left;
  return rig.value(`stroke.${axle}.left`) >= freeStroke.si;
}

function goingDown(yard: Yard, id: string, axle: string): Comparison[] {
  const rig = bleeding(yard, id);
  const warning = first(rig, () => rig.on("lamp.lowAir"), worse);
  const drag = first(rig, () => touches(rig, axle));
  const pop = first(rig, () => !rig.on("control.parking"));
  const full = first(rig, () => rig.psi(`${axle}.left.spring`) < 0.5);
  return [
    inOrder({
      what: `${id}: order`,
      happened: [
        ["warning", warning.timeS],
        ["springs drag", drag.timeS],
        ["control pops", pop.timeS],
        ["spring chambers empty", full.timeS],
      ],
      reason: "licence and operator manuals",
    }),
    atLeast({
      what: `${id}: warning at`,
      unit: "psi",
      got: warning.psi,
      limit: 59.9,
      ordinary: {
        low: 59.9,
        high: 75,
        source:
          "60 psi of 49 CFR 571.121 S5.1.5 (less a tenth for the step of looking); 60 to 75, common practice, no source",
      },
    }),
    between({
      what: `${id}: springs drag from`,
      unit: "psi",
      got: drag.psi,
      low: 50,
      high: 60,
      reason: "a little under 60",
    }),
    between({
      what: `${id}: control pops at`,
      unit: "psi",
      got: pop.psi,
      low: 20,
      high: 45,
      reason: "licence manuals (read)",
    }),
  ];
}

const e07a = (yard: Yard): Check =>
  clause({
    id: "E-07a",
    title: "Both circuits down: warning, then drag, then the control pops, then full spring force",
    source: {
      text: "licence and operator manuals: warning at 60 psi or more, pop-out 20 to 45 psi, partial application before that",
      seen: "read",
    },
    problem:
      "Key on, engine off, parking brake released. Small holes in all three tanks let them down together. Drag begins when the rod has used up its free stroke.",
    inputs: [
      "bus-a, harrow-ridge-12, harrow-ridge-tipper, legal-minimum-bus from 80 psi (supply tank 81), 1.2 mm holes",
    ],
    run: () => ({ comparisons: VEHICLES.flatMap(([id, axle]) => goingDown(yard, id, axle)) }),
  });

const SHARES = [
  [50, 1 / 6],
  [45, 1 / 4],
  [30, 1 / 2],
  [20, 2 / 3],
] as const;

const e07b = (yard: Yard): Check =>
  clause({
    id: "E-07b",
    title: "Spring force grows all the way down and is full only at zero",
    source: {
      text: "derived: 2,000 lbf spring losing 250 lbf per inch, on 30 in2, free stroke 0.55 in",
      seen: "derived",
    },
    problem:
      "The same with a parking control that sticks in, so that the spring chambers follow the tanks to nothing. Rod force over that with empty chambers, at four pressures of the tanks.",
    inputs: ["bus-a from 80 psi (supply tank 81)"],
    run() {
      const rig = bleeding(yard, "bus-a", [{ name: "sticks", kind: "parkingControlSticks" }]);
      const force = () => rig.value("rodForce.rear.left");
      const forces = SHARES.map(([psi]) => {
        rig.until(() => better(rig) <= psi, 600, 0.05);
        return force();
      });
      rig.until(() => better(rig) <= 6, 600, 0.05);
      const at6 = force();
      rig.until(() => rig.psi("rear.left.spring") <= 0.05, 1200, 1);
      const empty = force();
      return {
        comparisons: [
          ...SHARES.map(([psi, share], i) =>
            near({
              what: `share of full force with the tanks at ${psi} psi`,
              unit: "",
              got: forces[i]! / empty,
              expected: share,
              within: 0.07,
              reason: "first-order sum: the return spring and the relay's crack pressure are not in it",
            }),
          ),
          below({
            what: "share with the tanks at 6 psi",
            unit: "",
            got: at6 / empty,
            bound: 0.97,
            reason: "not yet full",
          }),
          between({
            what: "rod force with empty chambers",
            unit: "lbf",
            got: empty / 4.4482216152605,
            low: 1500,
            high: 2000,
            reason: "provincial manual p. 158 (read): in most chambers",
          }),
        ],
      };
    },
  });

/** Lets the tanks down until the control pops, stops the leaks, and pushes. */
function popped(yard: Yard, id: string): VehicleRig {
  const rig = bleeding(yard, id);
  first(rig, () => !rig.on("control.parking"));
  for (const { name } of HOLES) rig.set(`fault.${name}`, 0);
  return rig.wait(10);
}

function pushing(yard: Yard, id: string, axle: string): Comparison[] {
  const low = popped(yard, id);
  low.set("parking", 1).wait(2);
  const again = so(
    `${id}: pushed in where it popped: stays`,
    low.on("control.parking"),
    false,
    "below its hold-in pressure",
  );
  const springs = near({
    what: `${id}: spring chamber then`,
    unit: "psi",
    got: low.psi(`${axle}.left.spring`),
    expected: 0,
    within: 0.5,
    reason: "the springs stay on",
  });
  const held = low.set("hold.parking", 1).set("parking", 1).wait(2).on("control.parking");
  const freed = low.set("hold.parking", 0).wait(2).on("control.parking");
  low.set("throttle", low.assembly.speedsRpm!.fastIdle).set("starter", 1).wait(3).set("starter", 0);
  low.until(() => low.psi("primary") > 80 && low.psi("secondary") > 80, 900, 1);
  return [
    again,
    springs,
    so(`${id}: held in by hand: in while held`, held, true, "a hand is stronger than its spring"),
    so(`${id}: let go again: stays`, freed, false, "below its hold-in pressure"),
    so(
      `${id}: recharged to 80 psi and pushed: stays`,
      low.set("parking", 1).wait(2).on("control.parking"),
      true,
      "above it",
    ),
  ];
}

const e07c = (yard: Yard): Check =>
  clause({
    id: "E-07c",
    title: "Pushed in again below hold-in pressure, the control does not stay",
    problem:
      "Tanks let down until the control pops, leaks stopped there. The control is pushed, then held in by hand and let go; then the engine is started, the tanks are charged to 80 psi at fast idle, and it is pushed again.",
    inputs: ["bus-a, harrow-ridge-12, harrow-ridge-tipper, legal-minimum-bus"],
    run: () => ({ comparisons: VEHICLES.flatMap(([id, axle]) => pushing(yard, id, axle)) }),
  });

export const bothDown = (yard: Yard): readonly Check[] => [e07a(yard), e07b(yard), e07c(yard)];
