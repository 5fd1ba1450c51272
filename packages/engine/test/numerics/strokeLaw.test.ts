import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PSI, strokeLaw } from "../../src/index.ts";
import type { ChamberSpec } from "../../src/model/model.ts";
import { HANDOVER_M, RodBalance } from "../../src/numerics/strokeLaw.ts";
import { IN2, INCH, LBF } from "../components/testBench.ts";

const SEED = 20261201;
const FULL_M = 2.5 * INCH;

/** Type 30/30 on a foundation brake of free stroke (in); the defaults of the published stroke law. */
function rod(freeIn: number, spring: boolean): RodBalance {
  const areaM2 = 30 * IN2;
  const law = strokeLaw({
    areaM2,
    deadVolumeM3: 2.3e-4,
    fullStrokeM: FULL_M,
    thresholdPa: 4 * PSI,
    contactPa: 9 * PSI,
    freeStrokeM: freeIn * INCH,
    stiffnessNPerM: 457e3,
    returnSpring: { preloadN: 160, rateNPerM: 2000 },
    heat: { kind: "constant", conductanceWPerK: 0 },
  });
  const power = {
    node: 1,
    areaM2,
    forceN: 2000 * LBF,
    rateNPerM: (250 * LBF) / INCH,
    maximumStrokeM: FULL_M,
  };
  const spec: ChamberSpec = {
    name: "rear",
    serviceNode: 0,
    areaM2,
    law,
    returnSpring: { preloadN: 160, rateNPerM: 2000 },
    ...(spring ? { spring: power } : {}),
  };
  return new RodBalance(spec);
}

function solved(balance: RodBalance, servicePsi: number, springPsi: number): RodBalance {
  balance.solveBoth(servicePsi * PSI, springPsi * PSI);
  return balance;
}

const psi = fc.double({ min: -5, max: 150, noNaN: true });
const free = fc.constantFrom(0.4, 0.55, 1.1, 2.4, 2.5);

/** Service pressure at which air alone has the rod `leadM` further out than the power spring reaches against `s`, psi. */
function handover(f: number, s: number, leadM: number): number {
  const air = rod(f, false);
  const reachM = ((2000 - 30 * s) / 250) * INCH;
  let [low, high] = [0, 150];
  for (let k = 0; k < 50; k++) {
    const v = (low + high) / 2;
    air.solveService(v * PSI);
    if (air.stroke - reachM < leadM) low = v;
    else high = v;
  }
  return low;
}

/** Pairs of pressures, psi: where air and spring hand the rod over to one another, and anywhere. */
const corner = fc
  .tuple(free, fc.double({ min: 46, max: 66, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true }))
  .map(([f, s, lead]) => ({ f, v: handover(f, s, lead * HANDOVER_M), s }));
const anywhere = fc.tuple(free, psi, psi).map(([f, v, s]) => ({ f, v, s }));
const placed = fc.oneof(anywhere, corner);

/** Difference quotient over a step small against every rounding of the law. */
const STEP_PSI = 1e-4;

describe("the rod of a spring brake chamber", () => {
  /** Where two of air, spring and stop meet, the rounding adds or takes a quarter of its half-width: 0.05 mm. */
  const ROUNDING_M = HANDOVER_M / 4 + 1e-12;

  it("stands between its stops, with the power spring never ahead of it, in every pair of pressures", () => {
    fc.assert(
      fc.property(free, psi, psi, (f, v, s) => {
        const { stroke, springStroke } = solved(rod(f, true), v, s);
        expect(stroke).toBeGreaterThanOrEqual(-1e-12);
        expect(stroke).toBeLessThanOrEqual(FULL_M + ROUNDING_M);
        expect(springStroke).toBeGreaterThanOrEqual(-ROUNDING_M);
        expect(springStroke).toBeLessThanOrEqual(stroke + 1e-12);
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it("never goes back when either air pushes it out further", () => {
    fc.assert(
      fc.property(free, psi, psi, (f, v, s) => {
        const here = solved(rod(f, true), v, s).result.slice();
        expect(here[1]).toBeGreaterThanOrEqual(-1e-18);
        expect(here[2]).toBeLessThanOrEqual(1e-18);
        // The power spring comes out as its own air falls, and as the rod runs away from it.
        expect(here[4]).toBeGreaterThanOrEqual(-1e-18);
        expect(here[5]).toBeLessThanOrEqual(1e-18);
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it("has the slopes of its differences", () => {
    fc.assert(
      fc.property(placed, ({ f, v, s }) => {
        const r = rod(f, true);
        const at = (dv: number, ds: number) => solved(r, v + dv * STEP_PSI, s + ds * STEP_PSI).result.slice();
        const here = at(0, 0);
        const scale = Math.abs(here[1]!) + Math.abs(here[2]!) + Math.abs(here[4]!) + Math.abs(here[5]!) + 1e-7;
        const step = 2 * STEP_PSI * PSI;
        for (const [value, slope, dv, ds] of [
          [0, 1, 1, 0],
          [0, 2, 0, 1],
          [3, 4, 1, 0],
          [3, 5, 0, 1],
        ] as const) {
          const central = (at(dv, ds)[value]! - at(-dv, -ds)[value]!) / step;
          expect(Math.abs(here[slope]! - central)).toBeLessThan(2e-3 * scale);
        }
      }),
      { seed: SEED, numRuns: 1000 },
    );
  });

  it("has the curvatures of its slopes, away from where a corner begins or ends", () => {
    let compared = 0;
    fc.assert(
      fc.property(placed, ({ f, v, s }) => {
        const r = rod(f, true);
        const at = (dv: number, ds: number) => {
          solved(r, v + dv * STEP_PSI, s + ds * STEP_PSI).solveCurvature();
          return { slopes: r.result.slice(), curves: r.curvature.slice() };
        };
        const here = at(0, 0).curves;
        const step = 2 * STEP_PSI * PSI;
        for (const [curve, slope, dv, ds] of [
          [0, 1, 1, 0],
          [1, 1, 0, 1],
          [2, 2, 0, 1],
          [3, 4, 1, 0],
          [4, 4, 0, 1],
          [5, 5, 0, 1],
        ] as const) {
          const [up, down] = [at(dv, ds), at(-dv, -ds)];
          const central = (up.slopes[slope]! - down.slopes[slope]!) / step;
          const jumps = Math.abs(up.curves[curve]! - down.curves[curve]!);
          const scale = Math.abs(up.curves[curve]!) + Math.abs(down.curves[curve]!) + 1e-13;
          if (jumps > 0.01 * scale) continue;
          compared += 1;
          expect(Math.abs(here[curve]! - central)).toBeLessThan(0.02 * scale);
        }
      }),
      { seed: SEED, numRuns: 500 },
    );
    expect(compared).toBeGreaterThan(2500);
  });

  it("is moved by service air alone as a plain chamber is, while the spring is held off", () => {
    const [plain, both] = [rod(0.55, false), rod(0.55, true)];
    for (const v of [0, 3, 6, 9, 12, 60, 120]) {
      plain.solveService(v * PSI);
      expect(solved(both, v, 120).stroke).toBeCloseTo(plain.stroke, 12);
      expect(both.springStroke).toBeLessThan(1e-12);
    }
  });
});

describe("work stored in rod and springs", () => {
  const COUNT = 2000;

  /** Integral of gauge pressures over displacements along straight lines between pairs of pressures, J. */
  function workAlong(balance: RodBalance, path: readonly (readonly [number, number])[]): number {
    let sum = 0;
    for (let leg = 1; leg < path.length; leg++) {
      const [a, b] = [path[leg - 1]!, path[leg]!];
      let before = solved(balance, ...a).result.slice();
      for (let k = 1; k <= COUNT; k++) {
        const at = [0, 1].map((i) => a[i]! + ((b[i]! - a[i]!) * k) / COUNT) as [number, number];
        const middle = [0, 1].map((i) => a[i]! + ((b[i]! - a[i]!) * (k - 0.5)) / COUNT) as [number, number];
        const now = solved(balance, ...at).result.slice();
        sum += balance.area * middle[0] * PSI * (now[0]! - before[0]!);
        sum -= balance.springArea * middle[1] * PSI * (now[3]! - before[3]!);
        before = now;
      }
    }
    return sum;
  }

  function stored(balance: RodBalance, [v, s]: readonly [number, number]): number {
    return solved(balance, v, s).workStored(s * PSI);
  }

  const pairs = fc.tuple(fc.double({ min: 0, max: 120, noNaN: true }), fc.double({ min: 0, max: 120, noNaN: true }));

  it("is a function of state: the way taken between two pairs of pressures matters by the roundings only, under 0.45 J", () => {
    fc.assert(
      fc.property(pairs, pairs, pairs, (from, by, to) => {
        const balance = rod(0.55, true);
        const straight = workAlong(balance, [from, to]);
        expect(Math.abs(workAlong(balance, [from, by, to]) - straight)).toBeLessThan(0.45);
      }),
      { seed: SEED, numRuns: 30 },
    );
  });

  /** Held off, touching, and a spring that is partly out while air has the rod further. */
  const placedPairs = fc.oneof(
    pairs,
    fc.tuple(fc.double({ min: 60, max: 120, noNaN: true }), fc.double({ min: 50, max: 66, noNaN: true })),
  );

  it("is what the air has done, within 0.4 J of up to 450 J", () => {
    let most = 0;
    let largest = 0;
    fc.assert(
      fc.property(placedPairs, placedPairs, (from, to) => {
        const balance = rod(0.55, true);
        const done = workAlong(balance, [from, to]);
        most = Math.max(most, Math.abs(stored(balance, to) - stored(balance, from) - done));
        largest = Math.max(largest, Math.abs(done));
      }),
      { seed: SEED, numRuns: 60 },
    );
    expect(most).toBeLessThan(0.4);
    expect(largest).toBeGreaterThan(300);
  });
});
