import { ATMOSPHERE, type EngineModel, type Signal } from "../model/model.ts";
import {
  expansionRatio,
  expansionRatioSlope,
  fillingFactor,
  fillingFactorSlope,
  temperatureRatio,
  temperatureRatioSlope,
} from "../numerics/compression.ts";
import { CP, CV, GAMMA_AIR, GAS_CONSTANT } from "../numerics/gas.ts";
import { flowFactor, flowFactorSlope } from "../numerics/orificeFlow.ts";
import { ramp, rampSlope, smoothStep, smoothStepSlope } from "../numerics/smooth.ts";
import { AirState } from "./airState.ts";
import { indexOf } from "./layout.ts";
import { type FlatMix, flattenMix, GATE_SLOTS, massConductance, mixValue, type Plan, type RowTable } from "./plan.ts";

/** Rounding where one pilot piston takes over from another, Pa. */
export const PILOT_HANDOVER_PA = 1500;
const WATER_DENSITY = 998;
/** Water film below which a drain passes air, m3. */
const WATER_FILM_M3 = 2e-6;
const MAX_COLUMNS = 24;

interface FlatCompressor {
  readonly node: number;
  readonly speed: number;
  readonly speedRatio: number;
  readonly intakePa: number;
  readonly intakeK: number;
  readonly clearance: number;
  /** kg per revolution at filling factor 1, divided by 60: kg/s per rev/min. */
  readonly perRpm: number;
  readonly factors: Int32Array;
}

interface FlatLag {
  readonly at: number;
  readonly rate: number;
  readonly mix: FlatMix;
}

interface FlatWater {
  readonly at: number;
  readonly node: number;
  readonly drain: number;
  readonly area: number;
}

/**
 * The right-hand side f(x) of one vehicle and its Jacobian. Scratch memory is its own, so interleaved runs do not meet.
 * Factors of orifices (modes, cocks, faults) are folded into `conductance` by {@link refresh} whenever one of them changes.
 */
export class System {
  readonly plan: Plan;
  readonly air: AirState;
  private readonly model: EngineModel;
  private readonly from: Int32Array;
  private readonly to: Int32Array;
  private readonly fromAt: Int32Array;
  private readonly toAt: Int32Array;
  private readonly full: Float64Array;
  private readonly conductance: Float64Array;
  private readonly inverseSpan: Float64Array;
  private readonly factors: readonly Int32Array[];
  private readonly active: Int32Array;
  private activeCount = 0;
  private readonly compressors: readonly FlatCompressor[];
  private readonly compressorFactor: Float64Array;
  private readonly lags: readonly FlatLag[];
  private readonly waters: readonly FlatWater[];
  /** Mass flow into each node, and the same weighted by its temperature (kg K / s). The last entry is the open air. */
  private readonly inflow: Float64Array;
  private readonly inflowHeat: Float64Array;
  /** Flow through each orifice at the last evaluation, kg/s. */
  readonly flow: Float64Array;
  readonly opening: Float64Array;
  readonly compressorFlow: Float64Array;
  private readonly rate: Float64Array;
  private readonly flowBy = new Float64Array(MAX_COLUMNS);
  private readonly heatBy = new Float64Array(MAX_COLUMNS);
  private readonly slopes = { byTemperature: 0, byDensity: 0 };
  private readonly rampStates: Int32Array;

  constructor(plan: Plan) {
    const { model, layout } = plan;
    this.plan = plan;
    this.model = model;
    this.air = new AirState(plan);
    const n = layout.nodeCount;
    const nodeOf = (node: number): number => (node === ATMOSPHERE ? n : node);
    const stateOf = (node: number): number => (node === ATMOSPHERE ? layout.atmosphere : node);
    const { orifices } = model;
    this.from = Int32Array.from(orifices, (o) => nodeOf(o.from));
    this.to = Int32Array.from(orifices, (o) => nodeOf(o.to));
    this.fromAt = Int32Array.from(orifices, (o) => stateOf(o.from));
    this.toAt = Int32Array.from(orifices, (o) => stateOf(o.to));
    this.full = Float64Array.from(orifices, (o) => massConductance(o.conductance));
    this.conductance = this.full.slice();
    this.inverseSpan = Float64Array.from(orifices, (o) => 1 / (1 - o.criticalRatio));
    const indices = (signals: readonly Signal[]): Int32Array => Int32Array.from(signals, (s) => indexOf(layout, s));
    this.factors = orifices.map((o) => indices(o.factors));
    this.active = new Int32Array(orifices.length);
    this.compressors = model.compressors.map((c) => ({
      node: c.to,
      speed: indexOf(layout, c.speed),
      speedRatio: c.speedRatio,
      intakePa: c.intakePressurePa,
      intakeK: c.intakeTemperatureK,
      clearance: c.clearanceRatio,
      perRpm: (c.intakePressurePa * c.displacementM3 * c.speedRatio) / (60 * GAS_CONSTANT * c.intakeTemperatureK),
      factors: indices(c.factors),
    }));
    this.compressorFactor = new Float64Array(model.compressors.length).fill(1);
    this.lags = model.lags.map((lag, i) => ({
      at: layout.lagOf[i]!,
      rate: 1 / lag.timeConstantS,
      mix: flattenMix(layout, lag.mix),
    }));
    this.waters = model.waters.map((w, i) => ({
      at: layout.waterOf[i]!,
      node: w.node,
      drain: indexOf(layout, w.drain),
      area: w.drainAreaM2,
    }));
    this.inflow = new Float64Array(n + 1);
    this.inflowHeat = new Float64Array(n + 1);
    this.flow = new Float64Array(orifices.length);
    this.opening = new Float64Array(orifices.length);
    this.compressorFlow = new Float64Array(model.compressors.length);
    this.rate = new Float64Array(layout.stateCount);
    this.rampStates = layout.rampOf.filter((at) => at >= 0);
  }

  /** Folds modes, cocks and faults into the conductances. Call after any value beyond the states has changed. */
  refresh(x: Float64Array): void {
    this.activeCount = 0;
    for (let e = 0; e < this.full.length; e++) {
      let k = this.full[e]!;
      const factors = this.factors[e]!;
      for (let i = 0; i < factors.length; i++) k *= x[factors[i]!]!;
      this.conductance[e] = k;
      this.flow[e] = 0;
      this.opening[e] = 0;
      if (k > 0) {
        this.active[this.activeCount] = e;
        this.activeCount += 1;
      }
    }
    for (let c = 0; c < this.compressors.length; c++) {
      let k = 1;
      const { factors } = this.compressors[c]!;
      for (let i = 0; i < factors.length; i++) k *= x[factors[i]!]!;
      this.compressorFactor[c] = k;
    }
  }

  private pairValue(g: number, x: Float64Array): number {
    const { index, weight, offset } = this.plan.gates;
    const s = g * GATE_SLOTS;
    const a = offset[3 * g + 1]! + weight[s + 4]! * x[index[s + 4]!]! + weight[s + 5]! * x[index[s + 5]!]!;
    const b = offset[3 * g + 2]! + weight[s + 6]! * x[index[s + 6]!]! + weight[s + 7]! * x[index[s + 7]!]!;
    return b + ramp(a - b, PILOT_HANDOVER_PA);
  }

  /** How far past its cracking point a seat is, in widths. */
  private gateTravel(g: number, x: Float64Array): number {
    const { index, weight, offset, pairSign, inverseWidth } = this.plan.gates;
    const s = g * GATE_SLOTS;
    let e = offset[3 * g]!;
    e += weight[s]! * x[index[s]!]!;
    e += weight[s + 1]! * x[index[s + 1]!]!;
    e += weight[s + 2]! * x[index[s + 2]!]!;
    e += weight[s + 3]! * x[index[s + 3]!]!;
    if (pairSign[g] !== 0) e += pairSign[g]! * this.pairValue(g, x);
    return e * inverseWidth[g]!;
  }

  private openingOf(e: number, x: Float64Array): number {
    const { start } = this.plan.gates;
    let open = 1;
    for (let g = start[e]!; g < start[e + 1]!; g++) {
      const t = this.gateTravel(g, x);
      if (t <= 0) return 0;
      if (t < 1) open *= t * t * (3 - 2 * t);
    }
    return open;
  }

  private addOrificeFlows(x: Float64Array): void {
    const { temperatureK, warmth } = this.air;
    const { from, to, fromAt, toAt, flow, opening, inflow, inflowHeat } = this;
    for (let k = 0; k < this.activeCount; k++) {
      const e = this.active[k]!;
      const open = this.openingOf(e, x);
      opening[e] = open;
      if (open === 0) {
        flow[e] = 0;
        continue;
      }
      const a = from[e]!;
      const b = to[e]!;
      const pa = x[fromAt[e]!]!;
      const pb = x[toAt[e]!]!;
      const forward = pa >= pb;
      const up = forward ? pa : pb;
      const u = (1 - (forward ? pb : pa) / up) * this.inverseSpan[e]!;
      const source = forward ? a : b;
      const size = this.conductance[e]! * open * up * warmth[source]! * flowFactor(u);
      const w = forward ? size : -size;
      const heat = w * temperatureK[source]!;
      flow[e] = w;
      inflow[a] = inflow[a]! - w;
      inflow[b] = inflow[b]! + w;
      inflowHeat[a] = inflowHeat[a]! - heat;
      inflowHeat[b] = inflowHeat[b]! + heat;
    }
  }

  private addCompressorFlows(x: Float64Array, f: Float64Array): void {
    const { massIn, enthalpyIn } = this.plan.layout.audit;
    for (let c = 0; c < this.compressors.length; c++) {
      const k = this.compressors[c]!;
      const ratio = x[k.node]! / k.intakePa;
      const rpm = x[k.speed]!;
      const fill = 1 + k.clearance - k.clearance * expansionRatio(ratio);
      const shaft = rpm * k.speedRatio;
      const w = fill > 0 ? this.compressorFactor[c]! * k.perRpm * rpm * fillingFactor(shaft) * fill : 0;
      const heat = w * k.intakeK * temperatureRatio(ratio);
      this.compressorFlow[c] = w;
      this.inflow[k.node] = this.inflow[k.node]! + w;
      this.inflowHeat[k.node] = this.inflowHeat[k.node]! + heat;
      f[massIn] = f[massIn]! + w;
      f[enthalpyIn] = f[enthalpyIn]! + CP * heat;
    }
  }

  private waterRate(water: FlatWater, x: Float64Array): number {
    const open = x[water.drain]!;
    if (!(open > 0)) return 0;
    const head = x[water.node]! - x[this.plan.layout.atmosphere]!;
    if (!(head > 0)) return 0;
    return -open * water.area * Math.sqrt((2 * head) / WATER_DENSITY) * smoothStep(x[water.at]! / WATER_FILM_M3);
  }

  /** Writes f(x) for all states. Returns false when x lies outside the physical range. */
  evaluate(x: Float64Array, f: Float64Array): boolean {
    const { layout } = this.plan;
    if (!this.air.update(x)) return false;
    this.inflow.fill(0);
    this.inflowHeat.fill(0);
    for (let i = layout.nodeCount; i < layout.stateCount; i++) f[i] = 0;
    for (let r = 0; r < this.rampStates.length; r++) f[this.rampStates[r]!] = this.rampSlopes[r]!;
    this.addOrificeFlows(x);
    this.addCompressorFlows(x, f);
    for (const water of this.waters) f[water.at] = this.waterRate(water, x);
    this.writeNodeRates(x, f);
    this.writePairRates(x, f);
    for (const lag of this.lags) f[lag.at] = (mixValue(lag.mix, x) - x[lag.at]!) * lag.rate;
    f[layout.audit.massOut] = this.inflow[layout.nodeCount]!;
    f[layout.audit.enthalpyOut] = CP * this.inflowHeat[layout.nodeCount]!;
    return true;
  }

  /** Slope of each ramp control, per second; written by the run before a segment. */
  readonly rampSlopes = new Float64Array(64);

  private writeNodeRates(x: Float64Array, f: Float64Array): void {
    const { nodeCount, massOf, audit } = this.plan.layout;
    const { volumeM3, volumeByOwn, heatW, wallK } = this.air;
    const { waterOf } = this.plan.layout;
    let heatOut = 0;
    for (let i = 0; i < nodeCount; i++) {
      const m = massOf[i]!;
      const w = this.inflow[i]!;
      const h = this.inflowHeat[i]!;
      const p = x[i]!;
      const node = this.model.nodes[i]!;
      const waterFlow = node.water === undefined ? 0 : f[waterOf[node.water]!]!;
      if (m < 0) {
        heatOut += CP * h - CV * wallK[i]! * w;
        f[i] = (GAS_CONSTANT * wallK[i]! * w + p * waterFlow) / (volumeM3[i]! + p * volumeByOwn[i]!);
      } else {
        heatOut -= heatW[i]!;
        f[m] = w;
        f[i] =
          ((GAMMA_AIR - 1) * (CP * h + heatW[i]!) + GAMMA_AIR * p * waterFlow) /
          (volumeM3[i]! + GAMMA_AIR * p * volumeByOwn[i]!);
      }
    }
    f[audit.heatOut] = heatOut;
  }

  /** Spring brake chambers: both pressures change both volumes, so their two rates come from a 2 x 2 solve. */
  private writePairRates(x: Float64Array, f: Float64Array): void {
    const { volumeM3, volumeByOwn, volumeByOther } = this.air;
    for (const chamber of this.model.chambers) {
      if (!chamber.spring) continue;
      const i = chamber.serviceNode;
      const j = chamber.spring.node;
      const gamma = this.air.exponent(i);
      const m11 = volumeM3[i]! + gamma * x[i]! * volumeByOwn[i]!;
      const m12 = gamma * x[i]! * volumeByOther[i]!;
      const m21 = gamma * x[j]! * volumeByOther[j]!;
      const m22 = volumeM3[j]! + gamma * x[j]! * volumeByOwn[j]!;
      const g1 = f[i]! * m11;
      const g2 = f[j]! * m22;
      const inverse = 1 / (m11 * m22 - m12 * m21);
      f[i] = (g1 * m22 - g2 * m12) * inverse;
      f[j] = (g2 * m11 - g1 * m21) * inverse;
    }
  }

  // ------------------------------------------------------------------ Jacobian

  /** Writes df/dx (entries of the plan's pattern) at x, where `f` already holds f(x). */
  jacobian(x: Float64Array, f: Float64Array, jac: Float64Array): void {
    jac.fill(0);
    this.addOrificeSlopes(x, jac);
    this.addCompressorSlopes(x, jac);
    this.addWallHeatSlopes(x, jac);
    this.finishNodeRows(x, f, jac);
    this.finishPairRows(x, f, jac);
    this.addWaterSlopes(x, f, jac);
    this.addLagSlopes(jac);
    for (let i = 0; i < f.length; i++) this.rate[i] = f[i]!;
  }

  /** Slopes of a node's temperature by its own pressure, its mass and the other value. */
  private temperatureSlope(node: number, column: number, x: Float64Array): number {
    const { layout, otherOf } = this.plan;
    if (node === layout.nodeCount) return 0;
    const m = layout.massOf[node]!;
    if (m < 0) return 0;
    const t = this.air.temperatureK[node]!;
    if (column === m) return -t / x[m]!;
    if (column === node) return t * (1 / x[node]! + this.air.volumeByOwn[node]! / this.air.volumeM3[node]!);
    return column === otherOf[node]! ? (t * this.air.volumeByOther[node]!) / this.air.volumeM3[node]! : 0;
  }

  private addOrificeSlopes(x: Float64Array, jac: Float64Array): void {
    const { rows, gates } = this.plan;
    const { temperatureK, warmth } = this.air;
    const { flowBy, heatBy } = this;
    for (let k = 0; k < this.activeCount; k++) {
      const e = this.active[k]!;
      const open = this.opening[e]!;
      if (open === 0) continue;
      const pa = x[this.fromAt[e]!]!;
      const pb = x[this.toAt[e]!]!;
      const forward = pa >= pb;
      const up = forward ? pa : pb;
      const r = (forward ? pb : pa) / up;
      const span = this.inverseSpan[e]!;
      const phi = flowFactor((1 - r) * span);
      const phiSlope = flowFactorSlope((1 - r) * span, phi);
      const source = forward ? this.from[e]! : this.to[e]!;
      const base = this.conductance[e]! * warmth[source]!;
      const sign = forward ? 1 : -1;
      const byUp = sign * base * open * (phi + phiSlope * r * span);
      const byDown = -sign * base * open * phiSlope * span;
      const w = this.flow[e]!;
      const t = temperatureK[source]!;
      const upAt = forward ? this.fromAt[e]! : this.toAt[e]!;
      const downAt = forward ? this.toAt[e]! : this.fromAt[e]!;
      const c0 = rows.columnStart[e]!;
      const c1 = rows.columnStart[e + 1]!;
      for (let c = c0; c < c1; c++) {
        const column = rows.column[c]!;
        const dt = this.temperatureSlope(source, column, x);
        let dw = (-0.5 * w * dt) / t;
        if (column === upAt) dw += byUp;
        else if (column === downAt) dw += byDown;
        flowBy[c - c0] = dw;
        heatBy[c - c0] = t * dw + w * dt;
      }
      if (gates.start[e + 1]! > gates.start[e]!) this.addGateSlopes(e, x, sign * base * up * phi, t, c0, c1);
      this.scatter(rows, e, c1 - c0, jac);
    }
  }

  /** Adds (row, column) contributions of one flow to the Jacobian. */
  private scatter(rows: RowTable, e: number, columns: number, jac: Float64Array): void {
    let at = rows.positionStart[e]!;
    for (let r = rows.start[e]!; r < rows.start[e + 1]!; r++) {
      const a = rows.perFlow[r]!;
      const b = rows.perHeat[r]!;
      for (let c = 0; c < columns; c++) {
        const position = rows.position[at]!;
        jac[position] = jac[position]! + a * this.flowBy[c]! + b * this.heatBy[c]!;
        at += 1;
      }
    }
  }

  /** Slope of the opening by each signal that a seat listens to. `wide` is the flow with this orifice wide open. */
  private addGateSlopes(e: number, x: Float64Array, wide: number, t: number, c0: number, c1: number): void {
    const { gates, rows } = this.plan;
    const g1 = gates.start[e + 1]!;
    for (let g = gates.start[e]!; g < g1; g++) {
      const travel = this.gateTravel(g, x);
      const slope = smoothStepSlope(travel);
      if (slope === 0) continue;
      let others = 1;
      for (let h = gates.start[e]!; h < g1; h++) if (h !== g) others *= smoothStep(this.gateTravel(h, x));
      const byMix = wide * others * slope * gates.inverseWidth[g]!;
      const sign = gates.pairSign[g]!;
      const share = sign !== 0 ? this.firstShare(g, x) : 0;
      for (let s = 0; s < GATE_SLOTS; s++) {
        const weight = gates.weight[g * GATE_SLOTS + s]!;
        if (weight === 0) continue;
        const dw = byMix * weight * (s < 4 ? 1 : sign * (s < 6 ? share : 1 - share));
        const column = gates.index[g * GATE_SLOTS + s]!;
        for (let c = c0; c < c1; c++) {
          if (rows.column[c] !== column) continue;
          this.flowBy[c - c0] = this.flowBy[c - c0]! + dw;
          this.heatBy[c - c0] = this.heatBy[c - c0]! + t * dw;
        }
      }
    }
  }

  private firstShare(g: number, x: Float64Array): number {
    const { index, weight, offset } = this.plan.gates;
    const s = g * GATE_SLOTS;
    const a = offset[3 * g + 1]! + weight[s + 4]! * x[index[s + 4]!]! + weight[s + 5]! * x[index[s + 5]!]!;
    const b = offset[3 * g + 2]! + weight[s + 6]! * x[index[s + 6]!]! + weight[s + 7]! * x[index[s + 7]!]!;
    return rampSlope(a - b, PILOT_HANDOVER_PA);
  }

  private addCompressorSlopes(x: Float64Array, jac: Float64Array): void {
    const { compressorRows } = this.plan;
    for (let c = 0; c < this.compressors.length; c++) {
      const w = this.compressorFlow[c]!;
      const k = this.compressors[c]!;
      const ratio = x[k.node]! / k.intakePa;
      const fill = 1 + k.clearance - k.clearance * expansionRatio(ratio);
      if (!(fill > 0)) continue;
      const rpm = x[k.speed]!;
      const shaft = rpm * k.speedRatio;
      const base = this.compressorFactor[c]! * k.perRpm;
      const t = k.intakeK * temperatureRatio(ratio);
      const c0 = compressorRows.columnStart[c]!;
      const c1 = compressorRows.columnStart[c + 1]!;
      for (let i = c0; i < c1; i++) {
        const column = compressorRows.column[i]!;
        const byPressure = column === k.node;
        const dw = byPressure
          ? (-base * rpm * fillingFactor(shaft) * k.clearance * expansionRatioSlope(ratio)) / k.intakePa
          : base * fill * (fillingFactor(shaft) + shaft * fillingFactorSlope(shaft));
        const dt = byPressure ? (k.intakeK * temperatureRatioSlope(ratio)) / k.intakePa : 0;
        this.flowBy[i - c0] = dw;
        this.heatBy[i - c0] = t * dw + w * dt;
      }
      this.scatter(compressorRows, c, c1 - c0, jac);
    }
  }

  private addWallHeatSlopes(x: Float64Array, jac: Float64Array): void {
    const { layout, otherOf, positionOf, nodeColumnPosition } = this.plan;
    void positionOf;
    for (let i = 0; i < layout.nodeCount; i++) {
      const m = layout.massOf[i]!;
      if (m < 0) continue;
      const mass = x[m]!;
      this.air.writeHeatSlopes(i, mass, this.slopes);
      const volume = this.air.volumeM3[i]!;
      const rho = mass / volume;
      for (let k = 0; k < 3; k++) {
        const heatAt = nodeColumnPosition[i * 3 + k]!;
        if (heatAt < 0) continue;
        const column = k === 0 ? i : k === 1 ? m : otherOf[i]!;
        const byVolume = k === 0 ? this.air.volumeByOwn[i]! : k === 2 ? this.air.volumeByOther[i]! : 0;
        const dRho = k === 1 ? rho / mass : (-rho * byVolume) / volume;
        const dq = this.slopes.byTemperature * this.temperatureSlope(i, column, x) + this.slopes.byDensity * dRho;
        jac[heatAt] = jac[heatAt]! - dq;
        const own = this.ownRow[i * 3 + k]!;
        jac[own] = jac[own]! + dq;
      }
    }
  }

  /** Position of (pressure row of node, its k-th temperature column). */
  private get ownRow(): Int32Array {
    this.ownRowCache ??= this.makeOwnRow();
    return this.ownRowCache;
  }

  private ownRowCache: Int32Array | undefined;

  private makeOwnRow(): Int32Array {
    const { layout, otherOf, positionOf } = this.plan;
    const out = new Int32Array(layout.nodeCount * 3).fill(-1);
    for (let i = 0; i < layout.nodeCount; i++) {
      if (layout.massOf[i]! < 0) continue;
      out[i * 3] = positionOf(i, i);
      out[i * 3 + 1] = positionOf(i, layout.massOf[i]!);
      if (otherOf[i]! >= 0) out[i * 3 + 2] = positionOf(i, otherOf[i]!);
    }
    return out;
  }

  /** Turns energy rows into pressure rows: divide by the volume term, and account for its own slope. */
  private finishNodeRows(x: Float64Array, f: Float64Array, jac: Float64Array): void {
    const { layout, rowStart, rowPosition, positionOf, otherOf } = this.plan;
    const { volumeM3, volumeByOwn, volumeByOther, volumeCurve } = this.air;
    for (let i = 0; i < layout.nodeCount; i++) {
      const gamma = this.air.exponent(i);
      const scale = gamma > 1 ? gamma - 1 : 1;
      if (this.paired[i]) {
        for (let k = rowStart[i]!; k < rowStart[i + 1]!; k++) jac[rowPosition[k]!] = jac[rowPosition[k]!]! * scale;
        continue;
      }
      const p = x[i]!;
      const divisor = 1 / (volumeM3[i]! + gamma * p * volumeByOwn[i]!);
      for (let k = rowStart[i]!; k < rowStart[i + 1]!; k++)
        jac[rowPosition[k]!] = jac[rowPosition[k]!]! * scale * divisor;
      const own = this.diagonalPosition[i]!;
      jac[own] = jac[own]! - f[i]! * divisor * ((1 + gamma) * volumeByOwn[i]! + gamma * p * volumeCurve[3 * i]!);
      if (otherOf[i]! >= 0) {
        const other = positionOf(i, otherOf[i]!);
        jac[other] = jac[other]! - f[i]! * divisor * volumeByOther[i]!;
      }
    }
  }

  private finishPairRows(x: Float64Array, f: Float64Array, jac: Float64Array): void {
    const { rowStart, rowPosition, pattern } = this.plan;
    const { volumeM3, volumeByOwn: own, volumeByOther: other, volumeCurve: curve } = this.air;
    for (const chamber of this.model.chambers) {
      if (!chamber.spring) continue;
      const i = chamber.serviceNode;
      const j = chamber.spring.node;
      const gamma = this.air.exponent(i);
      const pi = x[i]!;
      const pj = x[j]!;
      const fi = f[i]!;
      const fj = f[j]!;
      const m11 = volumeM3[i]! + gamma * pi * own[i]!;
      const m12 = gamma * pi * other[i]!;
      const m21 = gamma * pj * other[j]!;
      const m22 = volumeM3[j]! + gamma * pj * own[j]!;
      const inverse = 1 / (m11 * m22 - m12 * m21);
      // Slopes of M times the rates, by p_i and p_j.
      const r1i =
        fi * ((1 + gamma) * own[i]! + gamma * pi * curve[3 * i]!) + fj * gamma * (other[i]! + pi * curve[3 * i + 1]!);
      const r1j = fi * (other[i]! + gamma * pi * curve[3 * i + 1]!) + fj * gamma * pi * curve[3 * i + 2]!;
      const r2j =
        fj * ((1 + gamma) * own[j]! + gamma * pj * curve[3 * j]!) + fi * gamma * (other[j]! + pj * curve[3 * j + 1]!);
      const r2i = fj * (other[j]! + gamma * pj * curve[3 * j + 1]!) + fi * gamma * pj * curve[3 * j + 2]!;
      const k0 = rowStart[i]!;
      const shift = rowStart[j]! - k0;
      for (let k = k0; k < rowStart[i + 1]!; k++) {
        const a = rowPosition[k]!;
        const b = rowPosition[k + shift]!;
        const column = pattern.columns[a]!;
        const g1 = jac[a]! - (column === i ? r1i : column === j ? r1j : 0);
        const g2 = jac[b]! - (column === i ? r2i : column === j ? r2j : 0);
        jac[a] = (g1 * m22 - g2 * m12) * inverse;
        jac[b] = (g2 * m11 - g1 * m21) * inverse;
      }
    }
  }

  private readonly pairedCache = { value: undefined as Uint8Array | undefined };

  private get paired(): Uint8Array {
    if (!this.pairedCache.value) {
      const flags = new Uint8Array(this.plan.layout.nodeCount);
      for (const c of this.model.chambers) {
        if (!c.spring) continue;
        flags[c.serviceNode] = 1;
        flags[c.spring.node] = 1;
      }
      this.pairedCache.value = flags;
    }
    return this.pairedCache.value;
  }

  private readonly diagonalCache = { value: undefined as Int32Array | undefined };

  private get diagonalPosition(): Int32Array {
    this.diagonalCache.value ??= Int32Array.from({ length: this.plan.layout.nodeCount }, (_, i) =>
      this.plan.positionOf(i, i),
    );
    return this.diagonalCache.value;
  }

  private addWaterSlopes(x: Float64Array, f: Float64Array, jac: Float64Array): void {
    const { positionOf, layout } = this.plan;
    for (const water of this.waters) {
      const rate = f[water.at]!;
      if (rate === 0) continue;
      const head = x[water.node]! - x[layout.atmosphere]!;
      const travel = x[water.at]! / WATER_FILM_M3;
      const byPressure = rate / (2 * head);
      const byWater = ((rate / smoothStep(travel)) * smoothStepSlope(travel)) / WATER_FILM_M3;
      const i = water.node;
      const gamma = this.air.exponent(i);
      const volume = this.air.volumeM3[i]!;
      const add = (row: number, column: number, value: number): void => {
        const at = positionOf(row, column);
        jac[at] = jac[at]! + value;
      };
      add(water.at, i, byPressure);
      add(water.at, water.at, byWater);
      add(i, i, (gamma * (rate + x[i]! * byPressure)) / volume);
      add(i, water.at, (gamma * x[i]! * byWater) / volume);
    }
  }

  private addLagSlopes(jac: Float64Array): void {
    const { positionOf, layout } = this.plan;
    for (const lag of this.lags) {
      const own = positionOf(lag.at, lag.at);
      jac[own] = jac[own]! - lag.rate;
      for (let k = 0; k < lag.mix.index.length; k++) {
        if (lag.mix.index[k]! >= layout.stateCount) continue;
        const at = positionOf(lag.at, lag.mix.index[k]!);
        jac[at] = jac[at]! + lag.mix.weight[k]! * lag.rate;
      }
    }
  }
}
