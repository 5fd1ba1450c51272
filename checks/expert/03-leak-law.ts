import { PSI } from "@brakeyard/engine";
import type { Check, Comparison } from "../src/check.ts";
import { nearShare } from "../src/compare.ts";
import { clause } from "./kinds.ts";
import { builtUp, type Yard } from "./yard.ts";

const LAW = {
  text: "derived: choked flow falls with absolute pressure, so from 100 psi t = 114.7 / r ln(114.7 / 74.7) = 49 / r to 60, and 36 / r more to 40",
  seen: "derived",
} as const;

interface Fall {
  /** psi/min that the gauge of the leaking tank shows at 100 psi. */
  readonly shown: number;
  /** Minutes from 100 to 60 psi, and from 60 to 40. */
  readonly to60: number;
  readonly to40: number;
}

/**
 * Lets a leak given as psi/min at 100 psi run down from 110 psi and times the tank that it is in. The governor has cut out, as it has
 * when a leak is timed in the cab, so the dryer has emptied and takes no part.
 */
function fall(yard: Yard, bus: string, where: string, psiPerMin: number, isothermal = false): Fall {
  const size = { ratePaPerS: (psiPerMin * PSI) / 60, atGaugePa: 100 * PSI };
  const faults = [{ name: "hole", kind: "leak", where, size }] as const;
  const rig = yard(bus, { isothermal, start: builtUp(110), faults });
  rig.wait(10).break("hole");
  const stepS = Math.round(60 / psiPerMin) / 100 + 0.01;
  const longestS = (3 * 49 * 60) / psiPerMin;
  const reach = (psi: number) => {
    const waited = rig.until(() => rig.psi(where) <= psi, longestS, stepS);
    return Number.isNaN(waited) ? waited : rig.timeS / 60;
  };
  const [at101, at100, at99] = [reach(101), reach(100), reach(99)];
  const at60 = reach(60);
  return { shown: 2 / (at99 - at101), to60: at60 - at100, to40: reach(40) - at60 };
}

const PLACES = ["supply", "primary", "secondary"] as const;
const BUSES = ["bus-a", "harrow-ridge-12"] as const;

function held(what: string, { shown, to60, to40 }: Fall, reason: string): Comparison[] {
  const named = `${what}, ${shown.toFixed(2)} psi/min at 100 psi`;
  const [first, second] = [to60 * shown, to40 * shown];
  return [
    nearShare({ what: `${named}: 100 to 60 psi, times r`, unit: "psi", got: first, expected: 49, share: 0.05, reason }),
    nearShare({ what: `${named}: 60 to 40 psi, times r`, unit: "psi", got: second, expected: 36, share: 0.05, reason }),
  ];
}

const e03a = (yard: Yard): Check =>
  clause({
    id: "E-03a",
    title: "A leak slows as pressure falls: 49/r minutes from 100 to 60 psi and 36/r more to 40",
    source: LAW,
    problem:
      "Engine off, parking brake released. A hole opens in one tank; r is what the gauge of that tank shows in psi/min as it passes 100 psi. A leak near the limits in the full model; one of about 10 psi/min with the air at wall temperature, as the law is derived.",
    inputs: [
      "bus-a and harrow-ridge-12 from 110 psi (supply tank 111), governor cut out; 3 psi/min in each of the three tanks, 10 psi/min in the primary",
    ],
    run: () => ({
      comparisons: BUSES.flatMap((bus) => [
        ...PLACES.flatMap((where) =>
          held(`${bus}, ${where} tank`, fall(yard, bus, where, 3), "air cools a little as it expands"),
        ),
        ...held(`${bus}, primary tank, air at wall temperature`, fall(yard, bus, "primary", 10, true), "as derived"),
      ]),
      beside: BUSES.map((bus) => {
        const { shown, to60, to40 } = fall(yard, bus, "primary", 10);
        return `${bus}, 10 psi/min in the full model: ${(to60 * shown).toFixed(1)} and ${(to40 * shown).toFixed(1)} times r. A fast leak cools the air, which adds to what the gauge shows at 100 psi, and lasts longer as it warms again.`;
      }),
    }),
  });

const e03b = (yard: Yard): Check =>
  clause({
    id: "E-03b",
    title: "A leak given as r psi/min at 100 psi is what the gauge shows there",
    source: LAW,
    problem:
      "The same with r as written in the fault: what the gauge shows at 100 psi, and the minutes. All air that drains together counts, that of the supply tank behind its check valve included.",
    inputs: [
      "bus-a and harrow-ridge-12 from 110 psi (supply tank 111), governor cut out; 3 psi/min at 100 psi in one tank",
    ],
    run: () => ({
      comparisons: BUSES.flatMap((bus) =>
        PLACES.flatMap((where) => {
          const { shown, to60, to40 } = fall(yard, bus, where, 3);
          const what = `${bus}, 3 psi/min in the ${where} tank`;
          const reason = "as the vehicle file's fault says";
          return [
            nearShare({
              what: `${what}: shown at 100 psi`,
              unit: "psi/min",
              got: shown,
              expected: 3,
              share: 0.05,
              reason,
            }),
            nearShare({
              what: `${what}: 100 to 60 psi`,
              unit: "min",
              got: to60,
              expected: 49 / 3,
              share: 0.05,
              reason,
            }),
            nearShare({ what: `${what}: 60 to 40 psi`, unit: "min", got: to40, expected: 36 / 3, share: 0.05, reason }),
          ];
        }),
      ),
    }),
  });

export const leakLaw = (yard: Yard): readonly Check[] => [e03a(yard), e03b(yard)];
