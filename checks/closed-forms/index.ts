import { GAS_CONSTANT_AIR as R, REFERENCE_DENSITY } from "@brakeyard/units";
import type { Check, Comparison } from "../src/check.ts";
import { nearShare } from "../src/compare.ts";
import { ADIABATIC, BENCH_AIR, bench, conductance, endlessStore } from "../src/parts.ts";
import { Rig } from "../src/rig.ts";

const G = 1.4;
const T = BENCH_AIR.temperatureK;
const AIR = BENCH_AIR.pressurePa;
const SHARE = 1e-4;
const reason = "ten times the error the engine allows itself per step";
const source = { text: "perfect gas and choked flow after ISO 6358, integrated by hand", seen: "derived" } as const;
const C = 2;
const VOLUME_M3 = 0.02;
const START_PA = 900_000;
/** kg/s through C at 293.15 K, choked, per Pa upstream. */
const PER_PA = C * 1e-8 * REFERENCE_DENSITY;

/** One tank with a hole; all moments are before the flow stops being choked (b 0.3: above 338 kPa). */
function blowDown(isothermal: boolean): Rig {
  const net = bench(isothermal);
  const tank = net.volume("tank", { volumeM3: VOLUME_M3, heat: ADIABATIC });
  net.orifice("hole", tank, net.atmosphere, conductance(C));
  return new Rig(net.compile(), { start: { nodes: { tank: { gaugePressurePa: START_PA - AIR } } } });
}

const MOMENTS_S = [1, 3, 6];

function along(rig: Rig, what: string, node: string, exact: (t: number) => number): Comparison[] {
  return MOMENTS_S.map((t) => {
    rig.wait(t - rig.timeS);
    const got = (rig.value(`pressure.${node}`) + AIR) / 1000;
    return nearShare({
      what: `${what} after ${t} s`,
      unit: "kPa",
      got,
      expected: exact(t) / 1000,
      share: SHARE,
      reason,
    });
  });
}

const isothermalBlowDown: Check = {
  id: "EXACT-blow-down-isothermal",
  title: "A tank emptying through a choked orifice at constant temperature",
  kind: "closed form",
  source,
  problem: "p = p0 exp(-C rho0 R T t / V) while the flow is choked.",
  inputs: [`${VOLUME_M3 * 1000} L from ${START_PA / 1000} kPa absolute, C ${C} dm3/(s bar), 20 C`],
  run: () => ({
    comparisons: along(
      blowDown(true),
      "pressure",
      "tank",
      (t) => START_PA * Math.exp((-PER_PA * R * T * t) / VOLUME_M3),
    ),
  }),
};

const adiabaticBlowDown: Check = {
  id: "EXACT-blow-down-adiabatic",
  title: "The same without heat through the wall",
  kind: "closed form",
  source,
  problem: "p = p0 (1 + (g - 1)/2 C rho0 R T0 t / V)^(-2g/(g-1)), T = T0 (p/p0)^((g-1)/g).",
  inputs: [`${VOLUME_M3 * 1000} L from ${START_PA / 1000} kPa absolute, C ${C} dm3/(s bar), 20 C at the start`],
  run() {
    const k = (((G - 1) / 2) * PER_PA * R * T) / VOLUME_M3;
    const pressure = (t: number) => START_PA * (1 + k * t) ** ((-2 * G) / (G - 1));
    const rig = blowDown(false);
    const pressures = along(rig, "pressure", "tank", pressure);
    const end = MOMENTS_S.at(-1)!;
    const temperature = nearShare({
      what: `temperature after ${end} s`,
      unit: "K",
      got: rig.value("temperature.tank"),
      expected: T * (pressure(end) / START_PA) ** ((G - 1) / G),
      share: SHARE,
      reason,
    });
    return { comparisons: [...pressures, temperature] };
  },
};

const SOURCE_PA = 1_200_000;

/** Filling from a store that holds its pressure; all moments are choked (below 360 kPa). */
function filling(isothermal: boolean): Rig {
  const net = bench(isothermal);
  const store = endlessStore(net, "store");
  const tank = net.volume("tank", { volumeM3: 0.1, heat: ADIABATIC });
  net.orifice("pipe", store, tank, conductance(C));
  return new Rig(net.compile(), { start: { nodes: { store: { gaugePressurePa: SOURCE_PA - AIR } } } });
}

function fillingCheck(isothermal: boolean): Check {
  const factor = isothermal ? 1 : G;
  return {
    id: `EXACT-filling-${isothermal ? "isothermal" : "adiabatic"}`,
    title: `A tank filling through a choked orifice ${isothermal ? "at constant temperature" : "without heat through the wall"}`,
    kind: "closed form",
    source,
    problem: `p = p0 + ${isothermal ? "" : "g "}R T w t / V with w = C rho0 p_source: a straight line.`,
    inputs: [`100 L from the open air, source held at ${SOURCE_PA / 1000} kPa absolute and 20 C, C ${C} dm3/(s bar)`],
    run: () => ({
      comparisons: along(
        filling(isothermal),
        "pressure",
        "tank",
        (t) => AIR + (factor * R * T * PER_PA * SOURCE_PA * t) / 0.1,
      ),
    }),
  };
}

const FIRST = { volumeM3: 0.02, pressurePa: 900_000 };
const SECOND = { volumeM3: 0.035, pressurePa: 200_000 };

function joined(isothermal: boolean): Rig {
  const net = bench(isothermal);
  const first = net.volume("first", { volumeM3: FIRST.volumeM3, heat: ADIABATIC });
  const second = net.volume("second", { volumeM3: SECOND.volumeM3, heat: ADIABATIC });
  net.orifice("pipe", first, second, conductance(C));
  const start = { first: FIRST.pressurePa, second: SECOND.pressurePa };
  const nodes = Object.entries(start).map(([name, pa]) => [name, { gaugePressurePa: pa - AIR }]);
  return new Rig(net.compile(), { start: { nodes: Object.fromEntries(nodes) } }).wait(120);
}

/** Both end at (p1 V1 + p2 V2)/(V1 + V2), with or without heat: energy as well as mass says so. */
const FINAL_PA =
  (FIRST.pressurePa * FIRST.volumeM3 + SECOND.pressurePa * SECOND.volumeM3) / (FIRST.volumeM3 + SECOND.volumeM3);

function exactly(what: string, unit: string, got: number, expected: number): Comparison {
  return nearShare({ what, unit, got, expected, share: SHARE, reason });
}

const equalising: Check = {
  id: "EXACT-equalising",
  title: "Two tanks joined",
  kind: "closed form",
  source,
  problem:
    "Both end at the mean of their pressures by volume, with or without heat. Without heat the emptying tank ends at T0 (p/p1)^((g-1)/g), the other at what the masses leave.",
  inputs: ["20 L at 900 kPa and 35 L at 200 kPa absolute, 20 C, joined by C 2 dm3/(s bar), after two minutes"],
  run() {
    const [held, free] = [joined(true), joined(false)];
    const first = T * (FINAL_PA / FIRST.pressurePa) ** ((G - 1) / G);
    const moles = (FIRST.pressurePa * FIRST.volumeM3 + SECOND.pressurePa * SECOND.volumeM3) / T;
    const second = (FINAL_PA * SECOND.volumeM3) / (moles - (FINAL_PA * FIRST.volumeM3) / first);
    return {
      comparisons: [
        exactly(
          "at constant temperature: pressure",
          "kPa",
          (held.value("pressure.first") + AIR) / 1000,
          FINAL_PA / 1000,
        ),
        exactly("without heat: pressure", "kPa", (free.value("pressure.second") + AIR) / 1000, FINAL_PA / 1000),
        exactly("without heat: temperature of the emptied tank", "K", free.value("temperature.first"), first),
        exactly("without heat: temperature of the filled tank", "K", free.value("temperature.second"), second),
      ],
    };
  },
};

export const closedForms: readonly Check[] = [
  isothermalBlowDown,
  adiabaticBlowDown,
  fillingCheck(true),
  fillingCheck(false),
  equalising,
];
