import {
  expansionRatio,
  expansionRatioSlope,
  fillingFactor,
  fillingFactorSlope,
  temperatureRatio,
  temperatureRatioSlope,
} from "../numerics/compression.ts";
import { CP, GAS_CONSTANT } from "../numerics/gas.ts";
import { indexOf } from "./layout.ts";
import type { Plan } from "./plan.ts";
import { scatter } from "./rowTable.ts";

interface FlatCompressor {
  readonly node: number;
  readonly speed: number;
  readonly speedRatio: number;
  readonly intakePa: number;
  readonly intakeK: number;
  readonly clearance: number;
  /** Flow at filling factor 1, kg/s per rev/min. */
  readonly perRpm: number;
  readonly factors: Int32Array;
}

/** The compressors of a vehicle: delivery against back pressure and speed, and its slopes. */
export class CompressorTable {
  readonly flow: Float64Array;
  private readonly plan: Plan;
  private readonly compressors: readonly FlatCompressor[];
  private readonly factor: Float64Array;
  private readonly flowBy = new Float64Array(2);
  private readonly heatBy = new Float64Array(2);

  constructor(plan: Plan) {
    const { model, layout } = plan;
    this.plan = plan;
    this.compressors = model.compressors.map((c) => ({
      node: c.to,
      speed: indexOf(layout, c.speed),
      speedRatio: c.speedRatio,
      intakePa: c.intakePressurePa,
      intakeK: c.intakeTemperatureK,
      clearance: c.clearanceRatio,
      perRpm: (c.intakePressurePa * c.displacementM3 * c.speedRatio) / (60 * GAS_CONSTANT * c.intakeTemperatureK),
      factors: Int32Array.from(c.factors, (s) => indexOf(layout, s)),
    }));
    this.factor = new Float64Array(this.compressors.length).fill(1);
    this.flow = new Float64Array(this.compressors.length);
  }

  refresh(x: Float64Array): void {
    for (let c = 0; c < this.compressors.length; c++) {
      let k = 1;
      const { factors } = this.compressors[c];
      for (let i = 0; i < factors.length; i++) k *= x[factors[i]];
      this.factor[c] = k;
    }
  }

  addFlows(x: Float64Array, inflow: Float64Array, inflowHeat: Float64Array, f: Float64Array): void {
    const { massIn, enthalpyIn } = this.plan.layout.audit;
    for (let c = 0; c < this.compressors.length; c++) {
      this.flow[c] = 0;
      if (this.factor[c] === 0) continue;
      const k = this.compressors[c];
      const ratio = x[k.node] / k.intakePa;
      const rpm = x[k.speed];
      const fill = 1 + k.clearance - k.clearance * expansionRatio(ratio);
      if (!(fill > 0)) continue;
      const w = this.factor[c] * k.perRpm * rpm * fillingFactor(rpm * k.speedRatio) * fill;
      const heat = w * k.intakeK * temperatureRatio(ratio);
      this.flow[c] = w;
      inflow[k.node] += w;
      inflowHeat[k.node] += heat;
      f[massIn] += w;
      f[enthalpyIn] += CP * heat;
    }
  }

  addSlopes(x: Float64Array, jac: Float64Array): void {
    const { compressorRows: rows } = this.plan;
    for (let c = 0; c < this.compressors.length; c++) {
      const k = this.compressors[c];
      const ratio = x[k.node] / k.intakePa;
      const fill = 1 + k.clearance - k.clearance * expansionRatio(ratio);
      if (!(fill > 0) || this.factor[c] === 0) continue;
      const rpm = x[k.speed];
      const shaft = rpm * k.speedRatio;
      const base = this.factor[c] * k.perRpm;
      const t = k.intakeK * temperatureRatio(ratio);
      const c0 = rows.columnStart[c];
      const c1 = rows.columnStart[c + 1];
      for (let i = c0; i < c1; i++) {
        const byPressure = rows.column[i] === k.node;
        const dw = byPressure
          ? (-base * rpm * fillingFactor(shaft) * k.clearance * expansionRatioSlope(ratio)) / k.intakePa
          : base * fill * (fillingFactor(shaft) + shaft * fillingFactorSlope(shaft));
        const dt = byPressure ? (k.intakeK * temperatureRatioSlope(ratio)) / k.intakePa : 0;
        this.flowBy[i - c0] = dw;
        this.heatBy[i - c0] = t * dw + this.flow[c] * dt;
      }
      scatter(rows, c, c1 - c0, this.flowBy, this.heatBy, jac);
    }
  }
}
