import { GAS_CONSTANT, PSI } from "@brakeyard/engine";
import type { Check } from "../src/check.ts";
import { above, between, near, nearShare } from "../src/compare.ts";
import { clause, psiText } from "./kinds.ts";
import type { VehicleRig, Yard } from "./yard.ts";

const BUSES = ["bus-a", "harrow-ridge-12", "legal-minimum-bus"] as const;
const TANKS = ["supply", "primary", "secondary"] as const;
const FROM_PSI = 85;

/** Fills from 85 psi at fast idle, parked, until the governor cuts out, and stops the engine there. */
function fastFill(yard: Yard, bus: string): VehicleRig {
  const fastIdle = yard(bus).assembly.speedsRpm!.fastIdle;
  const start = { otherTanksPa: FROM_PSI * PSI, parking: "out", engineRpm: fastIdle } as const;
  const rig = yard(bus, { start });
  rig.until(() => !rig.on("mode.governor.loaded"), 600, 0.1);
  return rig.set("key", 0);
}

/** Air in the three tanks, kg, from pressure, temperature and volume. */
function airInTanks(rig: VehicleRig): number {
  return TANKS.reduce((sum, tank) => sum + airIn(rig, tank), 0);
}

const tankM3 = (rig: VehicleRig, tank: string) =>
  rig.vehicle.air!.reservoirs.find((one) => one.id === tank)!.values.volume.si;

function airIn(rig: VehicleRig, tank: string): number {
  const absolutePa = rig.absolutePsi(tank) * PSI;
  return (absolutePa * tankM3(rig, tank)) / (GAS_CONSTANT * rig.value(`temperature.${tank}`));
}

/** Mean pressure of the three tanks by volume, psi absolute. */
function meanPsi(rig: VehicleRig): number {
  const volume = TANKS.reduce((sum, tank) => sum + tankM3(rig, tank), 0);
  return TANKS.reduce((sum, tank) => sum + rig.absolutePsi(tank) * tankM3(rig, tank), 0) / volume;
}

const e05a = (yard: Yard): Check =>
  clause({
    id: "E-05a",
    title: "After fast filling, engine stopped, the needles sink a little, then hold",
    problem:
      "Parked. Filled from 85 psi at fast idle until the governor cuts out, engine stopped there. The needles over the next 20 minutes.",
    inputs: ["bus-a, harrow-ridge-12, legal-minimum-bus"],
    run() {
      const seen = BUSES.map((bus) => {
        const rig = fastFill(yard, bus);
        const top = rig.psi("primary");
        const settled = rig.wait(900).psi("primary");
        return { bus, sink: top - settled, late: settled - rig.wait(300).psi("primary"), rise: top - FROM_PSI };
      });
      return {
        comparisons: seen.flatMap(({ bus, sink, late, rise }) => [
          between({
            what: `${bus}: sink of the primary needle`,
            unit: "psi",
            got: sink,
            low: 1,
            high: 0.35 * rise,
            reason: "a fast fill reads up to 35 % of its rise early",
          }),
          near({
            what: `${bus}: sink in the last five of twenty minutes`,
            unit: "psi",
            got: late,
            expected: 0,
            within: 0.1,
            reason: "then they hold",
          }),
        ]),
        beside: seen.map(
          ({ bus, sink, rise }) =>
            `${bus}: sinks ${psiText(sink)} after a rise of ${psiText(rise)}, ${((100 * sink) / rise).toFixed(0)} % of it. The jet that fills a real tank stirs it and cools it while it fills, which the model leaves out: there the sink is smaller and shorter.`,
        ),
      };
    },
  });

const e05b = (yard: Yard): Check =>
  clause({
    id: "E-05b",
    title: "The sink is not a leak, and the mass balance says so",
    source: {
      text: "derived: p V = m R T with the mass at the stop and the temperature of the walls",
      seen: "derived",
    },
    problem:
      "The same fill. Air in the three tanks, from their pressures, temperatures and volumes, before and after the sink; where pressure should end with that air at wall temperature; and the balance of the whole vehicle.",
    inputs: ["bus-a, harrow-ridge-12, legal-minimum-bus"],
    run: () => ({
      comparisons: BUSES.flatMap((bus) => {
        const rig = fastFill(yard, bus).wait(1);
        const [mass, heat, wall] = [
          airInTanks(rig),
          rig.balance.energy.heat,
          rig.assembly.model.nodes[0]!.wallTemperatureK,
        ];
        const volume = TANKS.reduce((sum, tank) => sum + tankM3(rig, tank), 0);
        const expected = (mass * GAS_CONSTANT * wall) / volume / PSI;
        rig.wait(1200);
        return [
          nearShare({
            what: `${bus}: air in the tanks after the sink, over that before`,
            unit: "",
            got: airInTanks(rig) / mass,
            expected: 1,
            share: 0.0005,
            reason: "none is lost; pipes between tanks breathe a little",
          }),
          nearShare({
            what: `${bus}: mean pressure after the sink, absolute`,
            unit: "psi",
            got: meanPsi(rig),
            expected,
            share: 0.002,
            reason: "the same air at wall temperature",
          }),
          above({
            what: `${bus}: heat that went into the walls meanwhile`,
            unit: "J",
            got: rig.balance.energy.heat - heat,
            bound: 100,
            reason: "it is cooling",
          }),
          near({
            what: `${bus}: balance of mass and energy of the whole run`,
            unit: "",
            got: rig.balance.relativeError,
            expected: 0,
            within: 1e-5,
            reason: "rounding and step error",
          }),
        ];
      }),
    }),
  });

export const sink = (yard: Yard): readonly Check[] => [e05a(yard), e05b(yard)];
