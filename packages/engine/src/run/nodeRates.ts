import { CP, CV, GAMMA_AIR, GAS_CONSTANT } from "../numerics/gas.ts";
import { type CodeWriter, literal } from "../numerics/straightLine.ts";
import type { AirState } from "./airState.ts";
import type { Plan } from "./plan.ts";

interface Pair {
  readonly i: number;
  readonly j: number;
  readonly gamma: number;
}

/**
 * Rates of pressure and mass from what flows into each node. With U = p V / (g - 1):
 *
 *     p' = ((g - 1) (sum w cp T_up + Q) - g p dV/dt) / (V + g p dV/dp),   m' = sum w
 *
 * and for air held at wall temperature p' = R T_wall sum w / (V + p dV/dp). Spring brake chambers move each other's volume, so
 * their two rates come from a 2 x 2 solve.
 */
export class NodeRates {
  /** Mass flow into each node, and the same weighted by its temperature (kg K/s). The last entry is the open air. */
  readonly inflow: Float64Array;
  readonly inflowHeat: Float64Array;
  private readonly plan: Plan;
  private readonly air: AirState;
  private readonly cool: Int32Array;
  private readonly wallGas: Float64Array;
  private readonly wallHeat: Float64Array;
  private readonly pairs: readonly Pair[];
  private readonly paired: Uint8Array;
  private readonly diagonal: Int32Array;
  private readonly ownRow: Int32Array;

  constructor(plan: Plan, air: AirState) {
    const { model, layout, positionOf, otherOf } = plan;
    const n = layout.nodeCount;
    this.plan = plan;
    this.air = air;
    this.inflow = new Float64Array(n + 1);
    this.inflowHeat = new Float64Array(n + 1);
    const indices = model.nodes.map((_, i) => i);
    this.cool = Int32Array.from(indices.filter((i) => layout.massOf[i] < 0));
    this.wallGas = Float64Array.from(this.cool, (i) => GAS_CONSTANT * model.nodes[i].wallTemperatureK);
    this.wallHeat = Float64Array.from(this.cool, (i) => CV * model.nodes[i].wallTemperatureK);
    this.pairs = model.chambers.flatMap((c) =>
      c.spring ? [{ i: c.serviceNode, j: c.spring.node, gamma: air.exponent(c.serviceNode) }] : [],
    );
    this.paired = new Uint8Array(n);
    for (const { i, j } of this.pairs) this.paired.fill(1, i, i + 1).fill(1, j, j + 1);
    this.diagonal = Int32Array.from(indices, (i) => positionOf(i, i));
    this.ownRow = new Int32Array(3 * n).fill(-1);
    for (const i of air.warmNodes) {
      this.ownRow[3 * i] = positionOf(i, i);
      this.ownRow[3 * i + 1] = positionOf(i, layout.massOf[i]);
    }
    for (const i of indices) if (otherOf[i] >= 0) this.ownRow[3 * i + 2] = positionOf(i, otherOf[i]);
  }

  /** Writes the rates of all pressures and masses, and the audit sums of heat and of what left the vehicle. */
  write(x: Float64Array, f: Float64Array): void {
    const { inflow, inflowHeat, cool, wallGas, wallHeat } = this;
    const { volumeM3, volumeByOwn, heatW, warmNodes, warmMass } = this.air;
    const { nodeCount, audit } = this.plan.layout;
    let heatOut = 0;
    for (let k = 0; k < cool.length; k++) {
      const i = cool[k];
      const w = inflow[i];
      heatOut += CP * inflowHeat[i] - wallHeat[k] * w;
      f[i] = (wallGas[k] * w) / (volumeM3[i] + x[i] * volumeByOwn[i]);
    }
    for (let k = 0; k < warmNodes.length; k++) {
      const i = warmNodes[k];
      heatOut -= heatW[i];
      f[warmMass[k]] = inflow[i];
      const power = (GAMMA_AIR - 1) * (CP * inflowHeat[i] + heatW[i]);
      f[i] = power / (volumeM3[i] + GAMMA_AIR * x[i] * volumeByOwn[i]);
    }
    f[audit.heatOut] = heatOut;
    f[audit.massOut] = inflow[nodeCount];
    f[audit.enthalpyOut] = CP * inflowHeat[nodeCount];
    for (let k = 0; k < this.pairs.length; k++) this.writePair(this.pairs[k], x, f);
  }

  private writePair(pair: Pair, x: Float64Array, f: Float64Array): void {
    const { volumeM3, volumeByOwn, volumeByOther } = this.air;
    const { i, j, gamma } = pair;
    const m11 = volumeM3[i] + gamma * x[i] * volumeByOwn[i];
    const m12 = gamma * x[i] * volumeByOther[i];
    const m21 = gamma * x[j] * volumeByOther[j];
    const m22 = volumeM3[j] + gamma * x[j] * volumeByOwn[j];
    const g1 = f[i] * m11;
    const g2 = f[j] * m22;
    const inverse = 1 / (m11 * m22 - m12 * m21);
    f[i] = (g1 * m22 - g2 * m12) * inverse;
    f[j] = (g2 * m11 - g1 * m21) * inverse;
  }

  /** The same as {@link write} as code. */
  writeCode(code: CodeWriter): void {
    const { volumeM3, volumeByOwn, heatW, warmNodes, warmMass } = this.air;
    const { nodeCount, audit } = this.plan.layout;
    const [w, h, v, own, q] = [this.inflow, this.inflowHeat, volumeM3, volumeByOwn, heatW].map((a) => code.bind(a));
    const sum = code.bind(new Float64Array(1));
    const cp = literal(CP);
    code.line(`${sum}[0]=0;`);
    this.cool.forEach((i, k) => {
      const gas = literal(this.wallGas[k]);
      code.line(`${sum}[0]+=${cp}*${h}[${i}]-${literal(this.wallHeat[k])}*${w}[${i}];`);
      code.line(`f[${i}]=(${gas}*${w}[${i}])/(${v}[${i}]+x[${i}]*${own}[${i}]);`);
    });
    const g = literal(GAMMA_AIR);
    warmNodes.forEach((i, k) => {
      code.line(`${sum}[0]-=${q}[${i}];f[${warmMass[k]}]=${w}[${i}];`);
      const power = `(${literal(GAMMA_AIR - 1)}*(${cp}*${h}[${i}]+${q}[${i}]))`;
      code.line(`f[${i}]=${power}/(${v}[${i}]+${g}*x[${i}]*${own}[${i}]);`);
    });
    code.line(
      `f[${audit.heatOut}]=${sum}[0];f[${audit.massOut}]=${w}[${nodeCount}];f[${audit.enthalpyOut}]=${cp}*${h}[${nodeCount}];`,
    );
    this.writePairCode(code, v, own);
  }

  private writePairCode(code: CodeWriter, v: string, own: string): void {
    const other = code.bind(this.air.volumeByOther);
    for (const { i, j, gamma } of this.pairs) {
      const g = literal(gamma);
      code.line(
        `{const a=${v}[${i}]+${g}*x[${i}]*${own}[${i}],b=${g}*x[${i}]*${other}[${i}],c=${g}*x[${j}]*${other}[${j}],` +
          `d=${v}[${j}]+${g}*x[${j}]*${own}[${j}];const p=f[${i}]*a,q=f[${j}]*d;const s=1/(a*d-b*c);` +
          `f[${i}]=(p*d-q*b)*s;f[${j}]=(q*a-p*c)*s;}`,
      );
    }
  }

  /** Turns the energy rows that the flows have written into pressure rows. */
  finishSlopes(x: Float64Array, f: Float64Array, jac: Float64Array): void {
    this.addWallHeat(x, jac);
    for (let i = 0; i < this.plan.layout.nodeCount; i++) this.finishRow(i, x, f, jac);
    for (const pair of this.pairs) this.finishPair(pair, x, f, jac);
  }

  private addWallHeat(x: Float64Array, jac: Float64Array): void {
    const { otherOf, nodeColumnPosition } = this.plan;
    const { warmNodes, warmMass, volumeByOwn, volumeByOther, volumeM3, temperatureSlopes } = this.air;
    for (let w = 0; w < warmNodes.length; w++) {
      const i = warmNodes[w];
      const byTemperature = this.air.heatByTemperature(w);
      const byDensity = this.air.heatByDensity(w);
      for (let k = 0; k < 3; k++) {
        const heatAt = nodeColumnPosition[i * 3 + k];
        if (heatAt < 0) continue;
        const column = k === 0 ? i : k === 1 ? warmMass[w] : otherOf[i];
        const byVolume = k === 0 ? volumeByOwn[i] : volumeByOther[i];
        const density = k === 1 ? 1 / x[column] : -byVolume / volumeM3[i];
        const dq = byTemperature * temperatureSlopes[4 * i + k + 1] + byDensity * density;
        jac[heatAt] -= dq;
        jac[this.ownRow[i * 3 + k]] += dq;
      }
    }
  }

  private finishRow(i: number, x: Float64Array, f: Float64Array, jac: Float64Array): void {
    const { rowStart, rowPosition, otherOf } = this.plan;
    const { volumeM3, volumeByOwn, volumeByOther, volumeCurve } = this.air;
    const gamma = this.air.exponent(i);
    const divisor = this.paired[i] ? 1 : 1 / (volumeM3[i] + gamma * x[i] * volumeByOwn[i]);
    const scale = (gamma > 1 ? gamma - 1 : 1) * divisor;
    for (let k = rowStart[i]; k < rowStart[i + 1]; k++) jac[rowPosition[k]] *= scale;
    if (this.paired[i]) return;
    const own = (1 + gamma) * volumeByOwn[i] + gamma * x[i] * volumeCurve[3 * i];
    jac[this.diagonal[i]] -= f[i] * divisor * own;
    if (otherOf[i] >= 0) jac[this.ownRow[3 * i + 2]] -= f[i] * divisor * volumeByOther[i];
  }

  private finishPair(pair: Pair, x: Float64Array, f: Float64Array, jac: Float64Array): void {
    const { rowStart, rowPosition, pattern } = this.plan;
    const { volumeM3, volumeByOwn: own, volumeByOther: other, volumeCurve: curve } = this.air;
    const { i, j, gamma } = pair;
    const pi = x[i];
    const pj = x[j];
    const fi = f[i];
    const fj = f[j];
    const m11 = volumeM3[i] + gamma * pi * own[i];
    const m12 = gamma * pi * other[i];
    const m21 = gamma * pj * other[j];
    const m22 = volumeM3[j] + gamma * pj * own[j];
    const inverse = 1 / (m11 * m22 - m12 * m21);
    // Slopes of the 2 x 2 matrix times the rates, by p_i and by p_j.
    const r1i =
      fi * ((1 + gamma) * own[i] + gamma * pi * curve[3 * i]) + fj * gamma * (other[i] + pi * curve[3 * i + 1]);
    const r1j = fi * (other[i] + gamma * pi * curve[3 * i + 1]) + fj * gamma * pi * curve[3 * i + 2];
    const r2j =
      fj * ((1 + gamma) * own[j] + gamma * pj * curve[3 * j]) + fi * gamma * (other[j] + pj * curve[3 * j + 1]);
    const r2i = fj * (other[j] + gamma * pj * curve[3 * j + 1]) + fi * gamma * pj * curve[3 * j + 2];
    const k0 = rowStart[i];
    const shift = rowStart[j] - k0;
    for (let k = k0; k < rowStart[i + 1]; k++) {
      const a = rowPosition[k];
      const b = rowPosition[k + shift];
      const column = pattern.columns[a];
      const g1 = jac[a] - (column === i ? r1i : column === j ? r1j : 0);
      const g2 = jac[b] - (column === i ? r2i : column === j ? r2j : 0);
      jac[a] = (g1 * m22 - g2 * m12) * inverse;
      jac[b] = (g2 * m11 - g1 * m21) * inverse;
    }
  }
}
