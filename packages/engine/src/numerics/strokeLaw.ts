import type { ChamberSpec, StrokeLaw } from "../model/model.ts";
import { ramp, rampCode, rampCurvature, rampIntegral, rampSlope, rampSlopeCode } from "./smooth.ts";
import { literal } from "./straightLine.ts";

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
  /**
   * Rod stroke and its slopes by v and s; power spring stroke and its slopes by v and s; then the forces of the last solve:
   * service air, and spring less its air.
   */
  readonly result = new Float64Array(8);
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
    const push = this.area * serviceGaugePa;
    this.result[0] = rampsValue(this.service, push);
    this.result[1] = this.area * rampsSlope(this.service, push);
    this.result[6] = push;
  }

  /** Service and spring chamber on one rod: gauge pressures, Pa. */
  solveBoth(serviceGaugePa: number, springGaugePa: number): void {
    const { area, springArea, result, service, combined, firstSlope } = this;
    const push = area * serviceGaugePa;
    const net = this.springForce - springArea * springGaugePa;
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
    result[6] = push;
    result[7] = net;
    result[0] = stroke;
    result[1] = sv;
    result[2] = ss;
    result[3] = stroke - ramp(gap, HANDOVER_M);
    result[4] = (1 - g1) * sv;
    result[5] = ss - g1 * (ss + (springArea * rampSlope(net, half)) / this.springRate);
  }

  /** The same as solveService or solveBoth as code: gauge pressures from the expressions given, results into array `into`. */
  lines(service: string, spring: string | undefined, into: string): string[] {
    const a = literal(this.area);
    const head = [`const push=${a}*(${service});`, `${into}[6]=push;`];
    if (spring === undefined) {
      return [...head, ...rampsCode("a", this.service, "push"), `${into}[0]=av;${into}[1]=${a}*as;`];
    }
    const b = literal(this.springArea);
    const first = literal(this.firstSlope);
    const half = literal(CORNER_PA * this.springArea);
    const rate = literal(this.springRate);
    const hand = literal(HANDOVER_M);
    return [
      ...head,
      `const net=${literal(this.springForce)}-${b}*(${spring});const both=push+net;`,
      ...rampsCode("a", this.service, "push"),
      ...rampsCode("c", this.combined, "both"),
      `const bySpring=cv+${first}*(both-${literal(this.firstForce)});const b1=cs+${first};`,
      `const lead=av-bySpring;const r1=${rampSlopeCode("lead", hand)};const stroke=bySpring+${rampCode("lead", hand)};`,
      `const sv=${a}*(b1+r1*(as-b1));const ss=-${b}*b1*(1-r1);`,
      `const gap=stroke-${rampCode("net", half)}/${rate};const g1=${rampSlopeCode("gap", hand)};`,
      `${into}[7]=net;${into}[0]=stroke;${into}[1]=sv;${into}[2]=ss;${into}[3]=stroke-${rampCode("gap", hand)};${into}[4]=(1-g1)*sv;`,
      `${into}[5]=ss-g1*(ss+(${b}*${rampSlopeCode("net", half)})/${rate});`,
    ];
  }

  /** Second slopes at the pressures of the last solve. */
  solveCurvature(): void {
    const { area: a, springArea: b, service, combined, result, curvature } = this;
    const push = result[6];
    const net = result[7];
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
   * less the complementary energy, which has a closed form because the law is made of ramps. Corner roundings left out: under 0.5 J.
   */
  workStored(springGaugePa: number): number {
    const { result } = this;
    const push = result[6];
    const net = result[7];
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

/** Value and slope of a sum of ramps as code: leaves them in NAMEv and NAMEs. */
function rampsCode(name: string, sum: RampSum, force: string): string[] {
  const lines = [`let ${name}v=0,${name}s=0;`];
  const h = literal(sum.half);
  for (let i = 0; i < sum.count; i++) {
    const c = literal(sum.slope[i]);
    lines.push(
      `{const d=${force}-${literal(sum.at[i])};if(d>=${h}){${name}v+=${c}*d;${name}s+=${c};}`,
      `else if(d>-${h}){const y=d+${h};${name}v+=${c}*((y*y)/(4*${h}));${name}s+=${c}*(y/(2*${h}));}}`,
    );
  }
  return lines;
}
