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
  for (let i = 1; i < force.length; i++) out.push((stroke[i]! - stroke[i - 1]!) / (force[i]! - force[i - 1]!));
  return out;
}

function sumOfRamps(force: readonly number[], stroke: readonly number[], before: number, half: number): RampSum {
  const s = slopes(force, stroke);
  const steps = force.map((_, i) => (i < s.length ? s[i]! : 0) - (i === 0 ? before : s[i - 1]!));
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
  const force = law.forceN.map((f, i) => f + springRate * law.strokeM[i]!);
  const first = slopes(force, law.strokeM)[0]!;
  return { ramps: sumOfRamps(force, law.strokeM, first, CORNER_PA * areaM2), firstSlope: first, firstForce: force[0]! };
}

/** Works out strokes and their derivatives for one chamber; results are left in the fields (no allocation). */
export class RodBalance {
  private readonly service: RampSum;
  private readonly combined: RampSum | undefined;
  private readonly firstSlope: number;
  private readonly firstForce: number;
  private readonly area: number;
  private readonly springArea: number;
  private readonly springForce: number;
  private readonly springRate: number;
  /** Rod stroke, and its first and second derivatives by service pressure v and spring pressure s. */
  stroke = 0;
  sv = 0;
  ss = 0;
  svv = 0;
  svs = 0;
  sss = 0;
  /** Power spring stroke and derivatives. */
  springStroke = 0;
  yv = 0;
  ys = 0;
  yvv = 0;
  yvs = 0;
  yss = 0;
  private lawValue = 0;
  private lawSlope = 0;
  private lawCurve = 0;

  constructor(spec: ChamberSpec) {
    this.area = spec.areaM2;
    this.service = serviceRamps(spec.law, spec.areaM2);
    const spring = spec.spring;
    const both = spring && combinedRamps(spec.law, spring.rateNPerM, spec.areaM2);
    this.combined = both?.ramps;
    this.firstSlope = both?.firstSlope ?? 0;
    this.firstForce = both?.firstForce ?? 0;
    this.springArea = spring?.areaM2 ?? 0;
    this.springForce = spring?.forceN ?? 0;
    this.springRate = spring?.rateNPerM ?? 1;
  }

  private evaluate(sum: RampSum, force: number): void {
    let value = 0;
    let slope = 0;
    let curve = 0;
    for (let i = 0; i < sum.count; i++) {
      const x = force - sum.at[i]!;
      const c = sum.slope[i]!;
      value += c * ramp(x, sum.half);
      slope += c * rampSlope(x, sum.half);
      curve += c * rampCurvature(x, sum.half);
    }
    this.lawValue = value;
    this.lawSlope = slope;
    this.lawCurve = curve;
  }

  /** Service chamber without a spring: gauge pressure, Pa. */
  solveService(serviceGaugePa: number): void {
    this.evaluate(this.service, this.area * serviceGaugePa);
    this.stroke = this.lawValue;
    this.sv = this.area * this.lawSlope;
    this.svv = this.area * this.area * this.lawCurve;
  }

  /** Service and spring chamber on one rod: gauge pressures, Pa. */
  solveBoth(serviceGaugePa: number, springGaugePa: number): void {
    const A = this.area;
    const B = this.springArea;
    const push = A * serviceGaugePa;
    this.evaluate(this.service, push);
    const a = this.lawValue;
    const a1 = this.lawSlope;
    const a2 = this.lawCurve;
    const net = this.springForce - B * springGaugePa;
    this.evaluate(this.combined!, push + net);
    const b = this.lawValue + this.firstSlope * (push + net - this.firstForce);
    const b1 = this.lawSlope + this.firstSlope;
    const b2 = this.lawCurve;
    const d = a - b;
    const r0 = ramp(d, HANDOVER_M);
    const r1 = rampSlope(d, HANDOVER_M);
    const r2 = rampCurvature(d, HANDOVER_M);
    const dv = A * (a1 - b1);
    const ds = B * b1;
    this.stroke = b + r0;
    this.sv = A * b1 + r1 * dv;
    this.ss = -B * b1 + r1 * ds;
    this.svv = A * A * (b2 + r1 * (a2 - b2)) + r2 * dv * dv;
    this.sss = B * B * b2 * (1 - r1) + r2 * ds * ds;
    this.svs = -A * B * b2 * (1 - r1) + r2 * dv * ds;
    this.solveSpringStroke(net);
  }

  /**
   * Work that the air has done on rod and springs, J, at the gauge pressures of the last solve: pressures times displacements
   * less the complementary energy, which has a closed form because the law is made of ramps. Corner roundings left out: under 0.1 J.
   */
  workStored(serviceGaugePa: number, springGaugePa: number): number {
    const push = this.area * serviceGaugePa;
    if (!this.combined) return push * this.stroke - integral(this.service, push);
    const net = this.springForce - this.springArea * springGaugePa;
    const touching = net > this.springRate * this.stroke;
    const above = push + net - this.firstForce;
    const complementary = touching
      ? integral(this.combined, push + net) + 0.5 * this.firstSlope * above * above
      : integral(this.service, push) + (net > 0 ? (net * net) / (2 * this.springRate) : 0);
    return push * this.stroke - this.springArea * springGaugePa * this.springStroke - complementary;
  }

  /** The spring piston goes with the rod when they touch, else as far as its own force lets it. */
  private solveSpringStroke(net: number): void {
    const half = CORNER_PA * this.springArea;
    const free = ramp(net, half) / this.springRate;
    const f1 = (-this.springArea * rampSlope(net, half)) / this.springRate;
    const f2 = (this.springArea * this.springArea * rampCurvature(net, half)) / this.springRate;
    const e = this.stroke - free;
    const r1 = rampSlope(e, HANDOVER_M);
    const r2 = rampCurvature(e, HANDOVER_M);
    const es = this.ss - f1;
    this.springStroke = this.stroke - ramp(e, HANDOVER_M);
    this.yv = (1 - r1) * this.sv;
    this.ys = this.ss - r1 * es;
    this.yvv = (1 - r1) * this.svv - r2 * this.sv * this.sv;
    this.yvs = (1 - r1) * this.svs - r2 * this.sv * es;
    this.yss = this.sss - r1 * (this.sss - f2) - r2 * es * es;
  }
}

function integral(sum: RampSum, force: number): number {
  let value = 0;
  for (let i = 0; i < sum.count; i++) value += sum.slope[i]! * rampIntegral(force - sum.at[i]!, sum.half);
  return value;
}
