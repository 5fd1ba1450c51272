import type { ChamberSpec, StrokeLaw } from "../model/model.ts";
import { ramp, rampCurvature, rampIntegral, rampSlope } from "./smooth.ts";

/**
 * Stroke of a chamber's rod from the balance of forces, without inertia: the rod stands where the push equals what the
 * return spring and the foundation brake answer with. Service air and power spring act on the same rod.
 *
 * The law is a sum of ramps in force, each corner rounded over the force of {@link CORNER_PA} on the diaphragm.
 * With a power spring of rate k the spring loses force as it comes out, so the same law is also written in
 * G = service force + spring force at zero stroke: s = law(G - k s), whose corners lie at F_i + k s_i.
 */
export const CORNER_PA = 6894.757293168361;
/** Rounding of the change-over between "air moves the rod" and "spring moves the rod", m. */
export const HANDOVER_M = 0.0002;

export interface RampSum {
  readonly count: number;
  readonly at: Float64Array;
  readonly slope: Float64Array;
  readonly half: number;
}

function slopes(force: ArrayLike<number>, stroke: ArrayLike<number>): number[] {
  const out: number[] = [];
  for (let i = 1; i < force.length; i++) out.push((stroke[i] - stroke[i - 1]) / (force[i] - force[i - 1]));
  return out;
}

function sumOfRamps(force: readonly number[], stroke: readonly number[], before: number, half: number): RampSum {
  const s = slopes(force, stroke);
  const steps = force.map((_, i) => (i < s.length ? s[i] : 0) - (i === 0 ? before : s[i - 1]));
  return { count: force.length, at: Float64Array.from(force), slope: Float64Array.from(steps), half };
}

/** Law for service air alone. */
export function serviceRamps(law: StrokeLaw, areaM2: number): RampSum {
  return sumOfRamps(law.forceN, law.strokeM, 0, CORNER_PA * areaM2);
}

/** Law for air and spring together; continues below its first corner with its first slope, so that a held-off spring never wins. */
export function combinedRamps(
  law: StrokeLaw,
  springRate: number,
  areaM2: number,
): { ramps: RampSum; firstSlope: number; firstForce: number } {
  const force = law.forceN.map((f, i) => f + springRate * law.strokeM[i]);
  const first = slopes(force, law.strokeM)[0];
  return { ramps: sumOfRamps(force, law.strokeM, first, CORNER_PA * areaM2), firstSlope: first, firstForce: force[0] };
}

/**
 * Works out strokes and their derivatives for one chamber, by service gauge pressure v and spring gauge pressure s.
 * Results are left in two small arrays, so that nothing is allocated.
 */
export class RodBalance {
  /** Rod stroke and its slopes by v and s; then power spring stroke and its slopes by v and s. */
  readonly result = new Float64Array(6);
  /** Second slopes by vv, vs, ss of rod stroke, then of power spring stroke. */
  readonly curvature = new Float64Array(6);
  readonly area: number;
  readonly springArea: number;
  private readonly service: RampSum;
  private readonly combined: RampSum;
  private readonly firstSlope: number;
  private readonly firstForce: number;
  private readonly springForce: number;
  private readonly springRate: number;
  private readonly hasSpring: boolean;
  /** Forces of the last solve: service air, and spring less its air. */
  private push = 0;
  private net = 0;

  constructor(spec: ChamberSpec) {
    const spring = spec.spring;
    const both = combinedRamps(spec.law, spring?.rateNPerM ?? 0, spec.areaM2);
    this.area = spec.areaM2;
    this.service = serviceRamps(spec.law, spec.areaM2);
    this.combined = both.ramps;
    this.firstSlope = both.firstSlope;
    this.firstForce = both.firstForce;
    this.hasSpring = spring !== undefined;
    this.springArea = spring?.areaM2 ?? 0;
    this.springForce = spring?.forceN ?? 0;
    this.springRate = spring?.rateNPerM ?? 1;
  }

  get stroke(): number {
    return this.result[0];
  }

  get springStroke(): number {
    return this.result[3];
  }

  /** Service chamber without a spring: gauge pressure, Pa. */
  solveService(serviceGaugePa: number): void {
    this.push = this.area * serviceGaugePa;
    this.result[0] = rampsValue(this.service, this.push);
    this.result[1] = this.area * rampsSlope(this.service, this.push);
  }

  /** Service and spring chamber on one rod: gauge pressures, Pa. */
  solveBoth(serviceGaugePa: number, springGaugePa: number): void {
    const { area, springArea, result, service, combined, firstSlope } = this;
    const push = area * serviceGaugePa;
    const net = this.springForce - springArea * springGaugePa;
    this.push = push;
    this.net = net;
    const byAir = rampsValue(service, push);
    const bySpring = rampsValue(combined, push + net) + firstSlope * (push + net - this.firstForce);
    const b1 = rampsSlope(combined, push + net) + firstSlope;
    const r1 = rampSlope(byAir - bySpring, HANDOVER_M);
    const stroke = bySpring + ramp(byAir - bySpring, HANDOVER_M);
    const sv = area * (b1 + r1 * (rampsSlope(service, push) - b1));
    const ss = -springArea * b1 * (1 - r1);
    // The spring piston goes with the rod when they touch, else as far as its own force lets it.
    const half = CORNER_PA * springArea;
    const gap = stroke - ramp(net, half) / this.springRate;
    const g1 = rampSlope(gap, HANDOVER_M);
    result[0] = stroke;
    result[1] = sv;
    result[2] = ss;
    result[3] = stroke - ramp(gap, HANDOVER_M);
    result[4] = (1 - g1) * sv;
    result[5] = ss - g1 * (ss + (springArea * rampSlope(net, half)) / this.springRate);
  }

  /** Second slopes at the pressures of the last solve. */
  solveCurvature(): void {
    const { area: a, springArea: b, service, combined, push, net, result, curvature } = this;
    if (!this.hasSpring) {
      curvature[0] = a * a * rampsCurvature(service, push);
      return;
    }
    const byAir = rampsValue(service, push);
    const bySpring = rampsValue(combined, push + net) + this.firstSlope * (push + net - this.firstForce);
    const b1 = rampsSlope(combined, push + net) + this.firstSlope;
    const b2 = rampsCurvature(combined, push + net);
    const r1 = rampSlope(byAir - bySpring, HANDOVER_M);
    const r2 = rampCurvature(byAir - bySpring, HANDOVER_M);
    const dv = a * (rampsSlope(service, push) - b1);
    const ds = b * b1;
    const vv = a * a * (b2 + r1 * (rampsCurvature(service, push) - b2)) + r2 * dv * dv;
    const vs = -a * b * b2 * (1 - r1) + r2 * dv * ds;
    const ss = b * b * b2 * (1 - r1) + r2 * ds * ds;
    const half = CORNER_PA * b;
    const gap = result[0] - ramp(net, half) / this.springRate;
    const g1 = rampSlope(gap, HANDOVER_M);
    const g2 = rampCurvature(gap, HANDOVER_M);
    const es = result[2] + (b * rampSlope(net, half)) / this.springRate;
    const free2 = (b * b * rampCurvature(net, half)) / this.springRate;
    curvature[0] = vv;
    curvature[1] = vs;
    curvature[2] = ss;
    curvature[3] = (1 - g1) * vv - g2 * result[1] * result[1];
    curvature[4] = (1 - g1) * vs - g2 * result[1] * es;
    curvature[5] = ss - g1 * (ss - free2) - g2 * es * es;
  }

  /**
   * Work that the air has done on rod and springs, J, at the gauge pressures of the last solve: pressures times displacements
   * less the complementary energy, which has a closed form because the law is made of ramps. Corner roundings left out: under 0.1 J.
   */
  workStored(springGaugePa: number): number {
    const { push, net, result } = this;
    if (!this.hasSpring) return push * result[0] - rampsIntegral(this.service, push);
    const touching = net > this.springRate * result[0];
    const above = push + net - this.firstForce;
    const complementary = touching
      ? rampsIntegral(this.combined, push + net) + 0.5 * this.firstSlope * above * above
      : rampsIntegral(this.service, push) + (net > 0 ? (net * net) / (2 * this.springRate) : 0);
    return push * result[0] - this.springArea * springGaugePa * result[3] - complementary;
  }
}

function rampsValue(sum: RampSum, force: number): number {
  let value = 0;
  for (let i = 0; i < sum.count; i++) value += sum.slope[i] * ramp(force - sum.at[i], sum.half);
  return value;
}

function rampsSlope(sum: RampSum, force: number): number {
  let value = 0;
  for (let i = 0; i < sum.count; i++) value += sum.slope[i] * rampSlope(force - sum.at[i], sum.half);
  return value;
}

function rampsCurvature(sum: RampSum, force: number): number {
  let value = 0;
  for (let i = 0; i < sum.count; i++) value += sum.slope[i] * rampCurvature(force - sum.at[i], sum.half);
  return value;
}

function rampsIntegral(sum: RampSum, force: number): number {
  let value = 0;
  for (let i = 0; i < sum.count; i++) value += sum.slope[i] * rampIntegral(force - sum.at[i], sum.half);
  return value;
}
