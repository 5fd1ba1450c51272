import { PSI } from "@brakeyard/engine";
import { standardPressurePa, standardTemperatureK, toSi } from "@brakeyard/units";
import type { Surroundings } from "@brakeyard/vehicle";
import type { Check, Comparison } from "../src/check.ts";
import { between, near, nearShare } from "../src/compare.ts";
import { clause } from "./kinds.ts";
import type { Edit, VehicleRig, Yard } from "./yard.ts";

const BUSES = ["bus-a", "harrow-ridge-12", "legal-minimum-bus"] as const;
const HEIGHT_M = toSi("length", 7000, "ft");
const SEA: Surroundings = { pressurePa: standardPressurePa(0), temperatureK: standardTemperatureK(0) };
const HIGH: Surroundings = { pressurePa: standardPressurePa(HEIGHT_M), temperatureK: standardTemperatureK(HEIGHT_M) };
const STANDARD = {
  text: "standard atmosphere (ISO 2533) at 7,000 ft; compressor with 5 % clearance",
  seen: "from memory",
} as const;

/** A compressor that loses nothing to clearance. */
const noClearance: Edit = (file) => {
  Object.assign(file["air"]!["compressor"]!, { clearance: { value: 0, unit: "1", from: "plate" } });
};

interface BuildUp {
  readonly from: number;
  readonly to: number;
  readonly isothermal: boolean;
  readonly stepS: number;
  readonly edit?: Edit;
}

const WINDOW: BuildUp = { from: 85, to: 100, isothermal: true, stepS: 0.02 };
const WINDOW_FULL: BuildUp = { ...WINDOW, isothermal: false };
const FROM_EMPTY: BuildUp = { from: 0.5, to: 100, isothermal: false, stepS: 0.2 };

/** Seconds between two pressures of the primary tank, engine at fast idle, parked. */
function buildUp(
  yard: Yard,
  bus: string,
  surroundings: Surroundings,
  { from, to, isothermal, stepS, edit }: BuildUp,
): number {
  const engineRpm = yard(bus).assembly.speedsRpm!.fastIdle;
  const start = { otherTanksPa: Math.max(0, from - 10) * PSI, parking: "out", engineRpm } as const;
  const rig = yard(bus, { surroundings, start, isothermal, ...(edit && { edit }) });
  const reach = (psi: number) => rig.until(() => rig.psi("primary") >= psi, 900, stepS);
  reach(from);
  return reach(to);
}

/** Time at 7,000 ft over that at sea level. */
const longer = (yard: Yard, bus: string, how: BuildUp) => buildUp(yard, bus, HIGH, how) / buildUp(yard, bus, SEA, how);

const percent = (ratio: number) => 100 * (ratio - 1);

function parts(yard: Yard, bus: string): Comparison[] {
  const whole = longer(yard, bus, WINDOW);
  const thin = longer(yard, bus, { ...WINDOW, edit: noClearance });
  return [
    between({
      what: `${bus}: 85 to 100 psi longer, air at wall temperature`,
      unit: "%",
      got: percent(whole),
      low: 30,
      high: 40,
      reason: "as stated",
    }),
    between({
      what: `${bus}: of it by thinner air (no clearance)`,
      unit: "%",
      got: percent(thin),
      low: 23,
      high: 30,
      reason: "by density alone 23, by pressure 30",
    }),
    between({
      what: `${bus}: of it by clearance at the higher ratio`,
      unit: "%",
      got: percent(whole / thin),
      low: 3,
      high: 12,
      reason: "the rest",
    }),
    between({
      what: `${bus}: empty to 100 psi longer, full model`,
      unit: "%",
      got: percent(longer(yard, bus, FROM_EMPTY)),
      low: 30,
      high: 40,
      reason: "as stated",
    }),
  ];
}

const e14a = (yard: Yard): Check =>
  clause({
    id: "E-14a",
    title: "At 7,000 ft build-up takes 30 to 40 % longer: thinner air, and more of each stroke lost to clearance",
    source: STANDARD,
    problem:
      "Engine at fast idle, parked. Build-up at sea level and at 7,000 ft, each with the standard atmosphere's pressure and temperature: 85 to 100 psi with the air held at wall temperature, as the shares are derived, and from empty in the full model. Then with a compressor without clearance, where only the thinner air is left; what remains of the ratio is clearance.",
    inputs: [
      `${BUSES.join(", ")}`,
      `sea level ${(SEA.pressurePa / 1000).toFixed(1)} kPa, ${SEA.temperatureK.toFixed(1)} K; 7,000 ft ${(HIGH.pressurePa / 1000).toFixed(1)} kPa, ${HIGH.temperatureK.toFixed(1)} K`,
    ],
    run: () => ({
      comparisons: BUSES.flatMap((bus) => parts(yard, bus)),
      beside: [
        `density there over that at sea level ${((HIGH.pressurePa / HIGH.temperatureK) * (SEA.temperatureK / SEA.pressurePa)).toFixed(3)}, pressure ${(HIGH.pressurePa / SEA.pressurePa).toFixed(3)}: tanks in the colder air need more of it too, so with all at one temperature it is the pressure that counts`,
        ...BUSES.map(
          (bus) =>
            `${bus}: 85 to 100 psi in the full model ${percent(longer(yard, bus, WINDOW_FULL)).toFixed(0)} % longer`,
        ),
      ],
      disagreement:
        "In the full model a short fill is quicker than at wall temperature because its air stays warm; the slower fill at 7,000 ft keeps less of that, so 85 to 100 psi takes a little over 40 % longer there.",
    }),
  });

interface Limits {
  readonly cutOut: number;
  readonly cutIn: number;
  readonly warning: number;
  readonly pop: number;
}

/** Gauge pressures at which things happen: governor, low-air switch, parking control. */
function limits(yard: Yard, bus: string, surroundings: Surroundings): Limits {
  const engineRpm = yard(bus).assembly.speedsRpm!.fastIdle;
  const rig = yard(bus, { surroundings, start: { otherTanksPa: 100 * PSI, parking: "in", engineRpm, loaded: true } });
  const supplyAt = (loaded: boolean) => {
    rig.until(() => rig.on("mode.governor.loaded") === loaded, 600, loaded ? 0.01 : 0.05);
    return rig.psi("supply");
  };
  const cutOut = supplyAt(false);
  rig.set("drain.supply", 1);
  const cutIn = supplyAt(true);
  const down = falling(yard, bus, surroundings);
  return { cutOut, cutIn, ...down };
}

function falling(yard: Yard, bus: string, surroundings: Surroundings): { warning: number; pop: number } {
  const rig: VehicleRig = yard(bus, { surroundings, start: { otherTanksPa: 80 * PSI, parking: "in", key: 1 } });
  for (const tank of ["supply", "primary", "secondary"]) rig.set(`drain.${tank}`, 1);
  rig.until(() => rig.on("lamp.lowAir"), 60);
  const warning = Math.min(rig.psi("primary"), rig.psi("secondary"));
  rig.until(() => !rig.on("control.parking"), 60);
  return { warning, pop: Math.max(rig.psi("primary"), rig.psi("secondary")) };
}

const e14b = (yard: Yard): Check =>
  clause({
    id: "E-14b",
    title: "Limits in gauge pressure do not move",
    problem:
      "The same vehicle at sea level and at 7,000 ft: where the governor cuts out and in, where the warning comes on and where the parking control pops, all as the gauges there show.",
    inputs: [`${BUSES.join(", ")}`],
    run: () => ({
      comparisons: BUSES.flatMap((bus) => {
        const [sea, high] = [limits(yard, bus, SEA), limits(yard, bus, HIGH)];
        const names = { cutOut: "cut-out", cutIn: "cut-in", warning: "warning", pop: "control pops" } as const;
        return (Object.keys(names) as (keyof Limits)[]).map((key) =>
          near({
            what: `${bus}: ${names[key]} at 7,000 ft (sea level ${sea[key].toFixed(2)} psi)`,
            unit: "psi",
            got: high[key],
            expected: sea[key],
            within: 0.7,
            reason: "what passes in a hundredth of a second",
          }),
        );
      }),
    }),
  });

const e14c = (yard: Yard): Check =>
  clause({
    id: "E-14c",
    title: "Each part of it, against the sum by hand",
    source: {
      text: "derived: thinner air by the ratio of pressures; clearance by 1 + c - c (pd/ps)^(1/1.3) at 92.5 psi, the middle of 85 to 100",
      seen: "derived",
    },
    problem:
      "The two shares of E-14a at wall temperature against the compressor's formula, in the middle of the build-up.",
    inputs: [`${BUSES.join(", ")}, clearance 5 %`],
    run: () => ({
      comparisons: BUSES.flatMap((bus) => {
        const thin = longer(yard, bus, { ...WINDOW, edit: noClearance });
        const whole = longer(yard, bus, WINDOW);
        const filled = (at: Surroundings) => 1.05 - 0.05 * (1 + (92.5 * PSI) / at.pressurePa) ** (1 / 1.3);
        return [
          nearShare({
            what: `${bus}: ratio by thinner air`,
            unit: "",
            got: thin,
            expected: SEA.pressurePa / HIGH.pressurePa,
            share: 0.01,
            reason: "steps of looking",
          }),
          nearShare({
            what: `${bus}: ratio by clearance`,
            unit: "",
            got: whole / thin,
            expected: filled(SEA) / filled(HIGH),
            share: 0.01,
            reason: "pressure in the discharge line stands a little higher than in the tank",
          }),
        ];
      }),
    }),
  });

export const altitude = (yard: Yard): readonly Check[] => [e14a(yard), e14b(yard), e14c(yard)];
