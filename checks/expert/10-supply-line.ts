import type { FaultSpec } from "@brakeyard/vehicle";
import type { Check, Comparison } from "../src/check.ts";
import { above, below, near } from "../src/compare.ts";
import { clause } from "./kinds.ts";
import { builtUp, type VehicleRig, type Yard } from "./yard.ts";

const VEHICLES = ["bus-a", "harrow-ridge-12", "harrow-ridge-tipper", "legal-minimum-bus"] as const;
const SERVICE = ["primary", "secondary"] as const;

const BURST: FaultSpec = { name: "burst", kind: "burst", where: "supply", boreM: 0.0095 };

function lossInTenMinutes(rig: VehicleRig, fail: () => void): { loss: number[]; supply: number } {
  const before = SERVICE.map((tank) => rig.psi(tank));
  fail();
  rig.wait(600);
  return { loss: SERVICE.map((tank, i) => before[i]! - rig.psi(tank)), supply: rig.psi("supply") };
}

function held(what: string, { loss, supply }: { loss: number[]; supply: number }): Comparison[] {
  return [
    below({ what: `${what}: supply tank`, unit: "psi", got: supply, bound: 0.5, reason: "it is empty" }),
    ...SERVICE.map((tank, i) =>
      near({
        what: `${what}: ${tank} tank loses in ten minutes`,
        unit: "psi",
        got: loss[i]!,
        expected: 0,
        within: 0.5,
        reason: "a sound check valve loses next to nothing; 10 psi in 10 minutes is still accepted",
      }),
    ),
  ];
}

const e10a = (yard: Yard): Check =>
  clause({
    id: "E-10a",
    title: "Supply line failure: the service tanks hold behind their check valves",
    source: { text: "NHTSA interpretation aiam2670: check valves may lose 10 psi in 10 minutes", seen: "read" },
    problem:
      "Engine off, parking brake released. The line at the supply tank bursts, 9.5 mm; the service tanks over ten minutes.",
    inputs: [`${VEHICLES.join(", ")} from 120 psi (supply tank 121)`],
    run: () => ({
      comparisons: VEHICLES.flatMap((id) => {
        const rig = yard(id, { start: builtUp(120), faults: [BURST] }).wait(5);
        return held(
          id,
          lossInTenMinutes(rig, () => rig.break("burst")),
        );
      }),
    }),
  });

const e10b = (yard: Yard): Check =>
  clause({
    id: "E-10b",
    title: "Bleeding the supply tank proves it",
    problem:
      "Engine off. The supply tank's drain is opened: needles stay where they are. With a check valve that sticks open the needle of its tank follows, and that is how it is found.",
    inputs: [`${VEHICLES.join(", ")} from 120 psi (supply tank 121)`],
    run: () => ({
      comparisons: VEHICLES.flatMap((id) => {
        const sound = yard(id, { start: builtUp(120) }).wait(5);
        const needles = SERVICE.map((tank) => sound.gauge(tank));
        sound.set("drain.supply", 1).wait(120);
        const faulty = SERVICE.map((tank) => {
          const faults = [{ name: "check", kind: "checkValveStuckOpen", where: tank }] as const;
          const rig = yard(id, { start: builtUp(120), faults })
            .wait(5)
            .break("check")
            .set("drain.supply", 1)
            .wait(120);
          return { tank, own: rig.gauge(tank), other: rig.gauge(tank === "primary" ? "secondary" : "primary") };
        });
        return [
          below({ what: `${id}: supply tank`, unit: "psi", got: sound.psi("supply"), bound: 1, reason: "bled" }),
          ...SERVICE.map((tank, i) =>
            near({
              what: `${id}: ${tank} needle after, against before`,
              unit: "psi",
              got: sound.gauge(tank) - needles[i]!,
              expected: 0,
              within: 0.5,
              reason: "it does not move",
            }),
          ),
          ...faulty.flatMap(({ tank, own, other }) => [
            below({
              what: `${id}: ${tank} check valve stuck open: its needle`,
              unit: "psi",
              got: own,
              bound: 5,
              reason: "it follows the supply tank",
            }),
            above({
              what: `${id}: ${tank} check valve stuck open: the other needle`,
              unit: "psi",
              got: other,
              bound: 118,
              reason: "its own valve holds",
            }),
          ]),
        ];
      }),
    }),
  });

export const supplyLine = (yard: Yard): readonly Check[] => [e10a(yard), e10b(yard)];
