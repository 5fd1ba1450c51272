import type { Check, Comparison } from "../src/check.ts";
import { nearShare } from "../src/compare.ts";
import { bench, conductance, endlessStore } from "../src/parts.ts";
import { quadrature } from "../src/quadrature.ts";
import { Rig, timeAbove } from "../src/rig.ts";

const VOLUME_M3 = 0.0015;
const SOURCE_PA = 790_801;
const FULL = 0.9;

/** Flow after ISO 6358 written out once more, in the plain form of the source: kg/s from p1 to p2 at 293.15 K. */
function flow(c: number, b: number, p1: number, p2: number): number {
  const r = p2 / p1;
  return r <= b ? c * p1 * 1.185 : c * p1 * 1.185 * Math.sqrt(1 - ((r - b) / (1 - b)) ** 2);
}

/** Time to fill isothermally from the open air to 90 % of the source: the integral of V / (R T w) over pressure. */
function expectedS(c: number, b: number): number {
  const slowness = (p: number) => VOLUME_M3 / (287.05287 * 293.15 * flow(c * 1e-8, b, SOURCE_PA, p));
  return quadrature(slowness, 101_325, FULL * SOURCE_PA);
}

function productS(c: number, b: number, isothermal: boolean): number {
  const net = bench(isothermal);
  const source = endlessStore(net, "source");
  const tank = net.volume("tank", { volumeM3: VOLUME_M3, heat: { kind: "natural", areaM2: 0.08, lengthM: 0.11 } });
  net.orifice("valve", source, tank, conductance(c, b));
  const rig = new Rig(net.compile(), { start: { nodes: { source: { gaugePressurePa: SOURCE_PA - 101_325 } } } });
  const filled = rig.record(["pressure.tank"], 1.5 * expectedS(c, b))["pressure.tank"];
  return timeAbove(filled, FULL * SOURCE_PA - 101_325);
}

const CASES = [
  [0.5, 0.2],
  [2.5, 0.3],
  [1, 0.5],
] as const;

function compare([c, b]: readonly [number, number]): Comparison {
  return nearShare({
    what: `time to 90 % with C ${c} dm3/(s bar), b ${b}`,
    unit: "s",
    got: productS(c, b, true),
    expected: expectedS(c, b),
    share: 0.01,
    reason: "published with the case (a numerical self-check)",
  });
}

export const p02: Check = {
  id: "P-02",
  title: "Filling a fixed volume, choked and then subsonic",
  kind: "published case",
  source: {
    text: "derived: flow after ISO 6358, integrated apart from the product by adaptive Simpson quadrature",
    seen: "derived",
  },
  problem:
    "A 1.5 L volume fills from the open air to 90 % (absolute) of a source of 790.8 kPa (100 psi), its air held at 20 C. It begins choked and ends subsonic.",
  inputs: ["volume 1.5 L, source 790.801 kPa absolute; C and b as named"],
  run: () => ({
    comparisons: CASES.map(compare),
    beside: [
      `full model, C 2.5, b 0.3: ${productS(2.5, 0.3, false).toFixed(3)} s, because filling warms the air: the same pressure is reached with less of it. It then sinks as the air cools.`,
    ],
  }),
};
