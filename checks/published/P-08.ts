import { addCompressor, mix } from "@brakeyard/engine";
import { fromSi } from "@brakeyard/units";
import type { Check } from "../src/check.ts";
import { nearShare } from "../src/compare.ts";
import { BENCH_AIR, bench, endlessStore } from "../src/parts.ts";
import { PSI, Rig } from "../src/rig.ts";

/** Free air delivered, ft3/min: volume of intake air at the state around the compressor. */
export function freeAirCfm(displacementM3: number, rpm: number, psi: number): number {
  const net = bench(false);
  const one = net.product({ name: "one", minimum: 0, terms: [{ weight: 1, factors: [] }] });
  const speed = net.lag({
    name: "shaft",
    mix: mix(0, [one, rpm]),
    timeConstantS: 0.1,
    initial: rpm,
    feedsBack: true,
    scale: 100,
  });
  const discharge = endlessStore(net, "discharge");
  addCompressor(
    net,
    "compressor",
    { discharge, speed, loaded: one, health: [] },
    {
      displacementM3,
      clearanceRatio: 0.05,
      intakeLossPa: 0,
      intakeTemperatureK: BENCH_AIR.temperatureK,
      speedRatio: 1,
    },
  );
  const rig = new Rig(net.compile(), { start: { nodes: { discharge: { gaugePressurePa: psi * PSI } } } });
  rig.wait(1);
  const massFlow = rig.value("flow.compressor");
  return fromSi("airFlow", (massFlow * 287.05287 * BENCH_AIR.temperatureK) / BENCH_AIR.pressurePa, "ft3/min");
}

export const p08: Check = {
  id: "P-08",
  title: "Delivery of a twin-cylinder compressor",
  kind: "published case",
  source: { text: "maker's manual, twin 92 mm x 54 mm (address withheld: it carries a make)", seen: "read" },
  problem:
    "Free air delivered against 120 psi at 1800 rpm. The model's filling factor at 1800 rpm was fitted to this point, so this is a calibration, not a prediction.",
  inputs: ["displacement 720 cm3, 1800 rpm, 120 psi gauge, intake 20 C at sea level; clearance 5 %, index 1.3"],
  run: () => ({
    comparisons: [
      nearShare({
        what: "free air delivered",
        unit: "ft3/min",
        got: freeAirCfm(720e-6, 1800, 120),
        expected: 30.3,
        share: 0.05,
        printed: "30.3",
        reason: "published with the case (calibration point)",
      }),
    ],
    beside: [
      `the same at 1250 rpm: ${freeAirCfm(720e-6, 1250, 120).toFixed(1)} ft3/min (rated displacement there 31.6); at 700 rpm: ${freeAirCfm(720e-6, 700, 120).toFixed(1)}`,
    ],
  }),
};
