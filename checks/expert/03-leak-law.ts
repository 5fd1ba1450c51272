import { PSI } from "@brakeyard/engine";
import type { Check } from "../src/check.ts";
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
function fall(yard: Yard, bus: string, where: string, psiPerMin: number): Fall {
  const size = { ratePaPerS: (psiPerMin * PSI) / 60, atGaugePa: 100 * PSI };
  const rig = yard(bus, {
    start: builtUp(110, { loaded: false }),
    faults: [{ name: "hole", kind: "leak", where, size }],
  });
  rig.wait(10).break("hole");
  const step = 0.01 * (60 / psiPerMin) + 0.01;
  const reach = (psi: number) => {
    rig.until(() => rig.psi(where) <= psi, 300 * 60, Math.max(0.01, Math.round(step * 100) / 100));
    return rig.timeS / 60;
  };
  const [at101, at100, at99] = [reach(101), reach(100), reach(99)];
  const at60 = reach(60);
  return { shown: 2 / (at99 - at101), to60: at60 - at100, to40: reach(40) - at60 };
}

const PLACES = ["supply", "primary", "secondary"] as const;
const BUSES = ["bus-a", "harrow-ridge-12"] as const;

const e03a = (yard: Yard): Check =>
  clause({
    id: "E-03a",
    title: "A leak slows as pressure falls: 49/r minutes from 100 to 60 psi and 36/r more to 40",
    source: LAW,
    problem:
      "Engine off, parking brake released. A hole opens in one tank; r is what the gauge of that tank shows in psi/min as it passes 100 psi.",
    inputs: [
      "bus-a and harrow-ridge-12 from 110 psi (supply tank 111), governor cut out; holes in the supply tank and in each service tank, three sizes",
    ],
    run: () => ({
      comparisons: BUSES.flatMap((bus) =>
        PLACES.flatMap((where, i) => {
          const asked = [3, 10, 2][i]!;
          const { shown, to60, to40 } = fall(yard, bus, where, asked);
          const fast = asked > 5;
          const share = fast ? 0.12 : 0.05;
          const what = `${bus}, ${where} tank, ${shown.toFixed(2)} psi/min at 100 psi`;
          const reason = fast
            ? "the law is that of air at wall temperature; a leak this fast cools the air while it is timed at 100 psi, and the walls warm it later"
            : "air in the tanks cools a little as it expands";
          return [
            nearShare({
              what: `${what}: 100 to 60 psi, times r`,
              unit: "psi",
              got: to60 * shown,
              expected: 49,
              share,
              reason,
            }),
            nearShare({
              what: `${what}: 60 to 40 psi, times r`,
              unit: "psi",
              got: to40 * shown,
              expected: 36,
              share,
              reason,
            }),
          ];
        }),
      ),
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
