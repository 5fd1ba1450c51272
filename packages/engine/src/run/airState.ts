import type { EngineModel } from "../model/model.ts";
import { GAMMA_AIR, GAS_CONSTANT, REFERENCE_TEMPERATURE_K } from "../numerics/gas.ts";
import { RodBalance } from "../numerics/strokeLaw.ts";
import { freeConvectionFactor, STILL_K } from "../numerics/wallHeat.ts";
import type { Plan } from "./plan.ts";

/**
 * What follows from the states at one instant, node by node: volume, temperature, and their slopes. One per run; every array is
 * scratch that the next instant overwrites. Node number `nodeCount` is the open air.
 */
export class AirState {
  private readonly plan: Plan;
  readonly temperatureK: Float64Array;
  /** sqrt(T0 / T), which ISO 6358 multiplies every flow from a node with. */
  readonly warmth: Float64Array;
  readonly volumeM3: Float64Array;
  /** Slope of volume by own pressure and by the other value of `Plan.otherOf`. */
  readonly volumeByOwn: Float64Array;
  readonly volumeByOther: Float64Array;
  /** Second slopes: own-own, own-other, other-other. */
  readonly volumeCurve: Float64Array;
  readonly heatW: Float64Array;
  readonly heatFactor: Float64Array;
  readonly heatConstant: Float64Array;
  readonly wallK: Float64Array;
  private readonly rigid: Float64Array;
  private readonly waterAt: Int32Array;
  readonly rods: readonly RodBalance[];
  private readonly serviceNode: Int32Array;
  private readonly springNode: Int32Array;
  private readonly area: Float64Array;
  private readonly springArea: Float64Array;

  constructor(plan: Plan) {
    const model: EngineModel = plan.model;
    const n = model.nodes.length;
    this.plan = plan;
    this.temperatureK = Float64Array.from([
      ...model.nodes.map((node) => node.wallTemperatureK),
      model.atmosphere.temperatureK,
    ]);
    this.warmth = this.temperatureK.map((t) => Math.sqrt(REFERENCE_TEMPERATURE_K / t));
    this.volumeM3 = Float64Array.from(model.nodes, (node) => node.volumeM3);
    this.rigid = this.volumeM3.slice();
    this.volumeByOwn = new Float64Array(n);
    this.volumeByOther = new Float64Array(n);
    this.volumeCurve = new Float64Array(3 * n);
    this.heatW = new Float64Array(n);
    this.heatFactor = Float64Array.from(model.nodes, ({ heat }) =>
      heat.kind === "natural" ? freeConvectionFactor(heat.areaM2, heat.lengthM) : 0,
    );
    this.heatConstant = Float64Array.from(model.nodes, ({ heat }) =>
      heat.kind === "constant" ? heat.conductanceWPerK : 0,
    );
    this.wallK = Float64Array.from(model.nodes, (node) => node.wallTemperatureK);
    this.waterAt = Int32Array.from(model.nodes, (node) =>
      node.water === undefined ? -1 : plan.layout.waterOf[node.water]!,
    );
    this.rods = model.chambers.map((c) => new RodBalance(c));
    this.serviceNode = Int32Array.from(model.chambers, (c) => c.serviceNode);
    this.springNode = Int32Array.from(model.chambers, (c) => c.spring?.node ?? -1);
    this.area = Float64Array.from(model.chambers, (c) => c.areaM2);
    this.springArea = Float64Array.from(model.chambers, (c) => c.spring?.areaM2 ?? 0);
    for (let i = 0; i < n; i++) if (this.waterAt[i]! >= 0) this.volumeByOther[i] = -1;
  }

  /** Volumes of the chambers from their pressures, of wet tanks from their water. */
  private updateVolumes(x: Float64Array): void {
    const atmosphere = x[this.plan.layout.atmosphere]!;
    for (let i = 0; i < this.waterAt.length; i++) {
      const water = this.waterAt[i]!;
      if (water >= 0) this.volumeM3[i] = this.rigid[i]! - x[water]!;
    }
    for (let c = 0; c < this.rods.length; c++) {
      const rod = this.rods[c]!;
      const v = this.serviceNode[c]!;
      const s = this.springNode[c]!;
      const area = this.area[c]!;
      if (s < 0) rod.solveService(x[v]! - atmosphere);
      else rod.solveBoth(x[v]! - atmosphere, x[s]! - atmosphere);
      this.volumeM3[v] = this.rigid[v]! + area * rod.stroke;
      this.volumeByOwn[v] = area * rod.sv;
      this.volumeCurve[3 * v] = area * rod.svv;
      if (s < 0) continue;
      const b = this.springArea[c]!;
      this.volumeByOther[v] = area * rod.ss;
      this.volumeCurve[3 * v + 1] = area * rod.svs;
      this.volumeCurve[3 * v + 2] = area * rod.sss;
      this.volumeM3[s] = this.rigid[s]! - b * rod.springStroke;
      this.volumeByOwn[s] = -b * rod.ys;
      this.volumeByOther[s] = -b * rod.yv;
      this.volumeCurve[3 * s] = -b * rod.yss;
      this.volumeCurve[3 * s + 1] = -b * rod.yvs;
      this.volumeCurve[3 * s + 2] = -b * rod.yvv;
    }
  }

  /** Works out everything from `x`. Returns false when a pressure, mass or volume is not positive (the step must shrink). */
  update(x: Float64Array): boolean {
    const { nodeCount, massOf } = this.plan.layout;
    this.updateVolumes(x);
    for (let i = 0; i < nodeCount; i++) {
      const p = x[i]!;
      const volume = this.volumeM3[i]!;
      if (!(p > 0 && volume > 0)) return false;
      const m = massOf[i]!;
      if (m < 0) continue;
      const mass = x[m]!;
      if (!(mass > 0)) return false;
      const t = (p * volume) / (mass * GAS_CONSTANT);
      const dt = this.wallK[i]! - t;
      const rho = mass / volume;
      this.temperatureK[i] = t;
      this.warmth[i] = Math.sqrt(REFERENCE_TEMPERATURE_K / t);
      const factor = this.heatFactor[i]!;
      const square = rho * rho;
      const conductance =
        factor > 0
          ? factor * Math.sqrt(Math.sqrt(Math.sqrt(square * square * (dt * dt + STILL_K * STILL_K))))
          : this.heatConstant[i]!;
      this.heatW[i] = conductance * dt;
    }
    return true;
  }

  /** Slope of wall heat: W per K of gas temperature, and W per kg/m3 of density. Call after update. */
  writeHeatSlopes(i: number, mass: number, out: { byTemperature: number; byDensity: number }): void {
    const dt = this.wallK[i]! - this.temperatureK[i]!;
    if (!(this.heatFactor[i]! > 0)) {
      out.byTemperature = -this.heatConstant[i]!;
      out.byDensity = 0;
      return;
    }
    const rho = mass / this.volumeM3[i]!;
    const d2 = dt * dt + STILL_K * STILL_K;
    const square = rho * rho;
    const conductance = this.heatFactor[i]! * Math.sqrt(Math.sqrt(Math.sqrt(square * square * d2)));
    out.byTemperature = -conductance * (1 + (0.25 * dt * dt) / d2);
    out.byDensity = (0.5 * conductance * dt) / rho;
  }

  /** Air mass of a node, kg. */
  massKg(i: number, x: Float64Array): number {
    const m = this.plan.layout.massOf[i]!;
    return m >= 0 ? x[m]! : (x[i]! * this.volumeM3[i]!) / (GAS_CONSTANT * this.wallK[i]!);
  }

  /** Ratio that stands for 1.4 in a node that carries temperature and 1 in an isothermal one. */
  exponent(i: number): number {
    return this.plan.layout.massOf[i]! >= 0 ? GAMMA_AIR : 1;
  }
}
