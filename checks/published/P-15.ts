import type { Check } from "../src/check.ts";
import { atLeast, atMost, inOrder } from "../src/compare.ts";
import { vehicle, yard } from "../src/yard.ts";
import { fullApplication, meanPsi, standing } from "../src/yard-tools.ts";
import { FREE_IN, SHOES_REACHED } from "./P-12.ts";

const CUT_OUT_PSI = 120;

/** Settled pressure after five full applications from cut-out, compressor stopped. */
function afterFive(isothermal: boolean): number {
  const bus = standing("legal-minimum-bus", CUT_OUT_PSI, { isothermal });
  for (let i = 0; i < 5; i++) fullApplication(bus, 4, isothermal ? 6 : 30);
  return meanPsi(bus);
}

/** Seconds from empty to 80 % of cut-out in both service tanks, engine at the maker's highest speed. */
function fillS(isothermal: boolean): number {
  const bus = vehicle("legal-minimum-bus");
  const rpm = bus.engineSpeeds?.maximumRecommended.si ?? Number.NaN;
  const filling = yard(bus, { isothermal, start: { psi: 0, parking: "out", engineRpm: rpm } });
  const enough = () => Math.min(filling.psi("primary"), filling.psi("secondary")) >= 0.8 * CUT_OUT_PSI;
  return filling.until(enough, 600, 0.1);
}

/** When warning and springs come while the air is fanned away. */
function warningThenSprings() {
  const bus = standing("legal-minimum-bus", CUT_OUT_PSI);
  let [warned, sprung] = [Number.NaN, Number.NaN];
  for (let i = 0; i < 40 && !(warned >= 0 && sprung >= 0); i++) {
    fullApplication(bus, 1, 1);
    if (Number.isNaN(warned) && bus.value("lamp.lowAir") === 1) warned = bus.timeS;
    if (Number.isNaN(sprung) && bus.strokeIn("rear.left") >= SHOES_REACHED * FREE_IN) sprung = bus.timeS;
  }
  return { warned, sprung };
}

export const p15: Check = {
  id: "P-15",
  title: "Least reserve and least compressor the United States rules allow, against Western Australia's rule",
  kind: "published case",
  source: { text: "Western Australia Road Traffic (Vehicles) Regs 2014 r. 334", seen: "read" },
  problem:
    "Tanks of 12 x chamber volume and a compressor that just meets the 25 s rule: five full applications with the compressor stopped must leave half of cut-out; 80 % of cut-out must come within 5 minutes from empty; springs must not act before the warning.",
  inputs: ["legal-minimum bus, cut-out 120 psi; air held at wall temperature, as the prediction was derived"],
  run() {
    const { warned, sprung } = warningThenSprings();
    return {
      comparisons: [
        atLeast({
          what: "settled pressure after five full applications",
          unit: "psi",
          got: afterFive(true),
          limit: 60,
          ordinary: { low: 76, high: 89, source: "predicted with the case from the table of P-09 (derived)" },
        }),
        atMost({
          what: "from empty to 96 psi",
          unit: "min",
          got: fillS(true) / 60,
          limit: 5,
          ordinary: { low: 2.3, high: 2.7, source: "predicted with the case (derived)" },
        }),
        inOrder({
          what: "fanned down",
          happened: [
            ["warning", warned],
            ["springs press the shoes, pedal up", sprung],
          ],
          reason: "the rule: springs do not act before the warning",
        }),
      ],
      beside: [
        `full model: ${afterFive(false).toFixed(1)} psi after five, read 30 s after each; ${(fillS(false) / 60).toFixed(2)} min to fill, because filling warms the air and the needle is early`,
      ],
    };
  },
};
