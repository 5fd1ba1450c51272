import type { Check, Comparison } from "../src/check.ts";
import { nearShare } from "../src/compare.ts";
import { type Edit, vehicle, yard } from "../src/yard.ts";
import { displacementCm3, meanPsi, tankLitres } from "../src/yard-tools.ts";
import { freeAirCfm } from "./P-08.ts";

const RPM = 1200;
/** 61 L in three tanks, divided as on the default bus. */
const LITRES = { supply: 18.8, primary: 23.4, secondary: 18.8 };
const CASES = [
  { cfm: 5.3, expectedS: 25 },
  { cfm: 12, expectedS: 11.1 },
  { cfm: 20, expectedS: 6.6 },
];

/** A compressor that delivers so much free air against 100 psi at the speed of the case. */
function delivering(cfm: number): Edit {
  const cm3 = (100 * cfm) / freeAirCfm(100e-6, RPM, 100);
  return (file) => {
    displacementCm3(cm3)(file);
    tankLitres(LITRES)(file);
    file.air.dryer.fitted = { value: "no", from: "plate" };
  };
}

function bus(cfm: number, isothermal: boolean) {
  const of = vehicle("default-bus", delivering(cfm));
  return yard(of, { isothermal, start: { psi: 80, parking: "out", engineRpm: RPM } });
}

/** Time from 85 to 100 psi, s, of the air itself: pressure of the tanks as it stands when settled. */
function settledS(cfm: number): number {
  const yard = bus(cfm, true);
  yard.until(() => meanPsi(yard) >= 85, 120);
  return yard.until(() => meanPsi(yard) >= 100, 120);
}

/** The same by the primary needle, in the full model. */
function needleS(cfm: number): number {
  const yard = bus(cfm, false);
  yard.until(() => yard.value("gauge.primary") >= 85 * 6894.757, 120);
  return yard.until(() => yard.value("gauge.primary") >= 100 * 6894.757, 120);
}

function compare({ cfm, expectedS }: (typeof CASES)[number]): Comparison {
  return nearShare({
    what: `85 to 100 psi with ${cfm} ft3/min of free air`,
    unit: "s",
    got: settledS(cfm),
    expected: expectedS,
    share: 0.05,
    reason: "published with the case, which was derived isothermally",
  });
}

export const p07: Check = {
  id: "P-07",
  title: "Build-up from 85 to 100 psi",
  kind: "published case",
  source: { text: "FMVSS 121 S5.1.1 formula (NHTSA letter 2947o), times derived from it", seen: "derived" },
  problem:
    "61 L of tanks, a compressor that delivers a stated amount of free air against 100 psi. Air held at wall temperature and pressure taken as it stands settled over all tanks, as the case was derived.",
  inputs: ["default bus with its tanks cut to 61 L, no dryer; compressor sized by P-08's model at 1200 rpm"],
  run: () => ({
    comparisons: CASES.map(compare),
    beside: CASES.map(
      ({ cfm, expectedS }) =>
        `full model, ${cfm} ft3/min, by the primary needle from 80 psi: ${needleS(cfm).toFixed(1)} s (${expectedS} s isothermal). Filling warms the air, so the needle is early; it sinks afterwards as the air cools.`,
    ),
  }),
};
