import { AirState } from "./airState.ts";
import { CompressorTable } from "./compressorTable.ts";
import { LagTable } from "./lagTable.ts";
import { NodeRates } from "./nodeRates.ts";
import { OrificeTable } from "./orificeTable.ts";
import type { Plan } from "./plan.ts";
import { WaterTable } from "./waterTable.ts";

/**
 * The right-hand side f(x) of one vehicle and its Jacobian. Scratch memory is its own, so interleaved runs do not meet.
 */
export class System {
  readonly plan: Plan;
  readonly air: AirState;
  readonly orifices: OrificeTable;
  readonly compressors: CompressorTable;
  /** Slope of each ramp control, per second, in order of `layout.rampOf`; the run writes it before a segment. */
  readonly rampSlopes: Float64Array;
  private readonly rampStates: Int32Array;
  private readonly nodes: NodeRates;
  private readonly waters: WaterTable;
  private readonly lags: LagTable;

  constructor(plan: Plan) {
    this.plan = plan;
    this.air = new AirState(plan);
    this.orifices = new OrificeTable(plan);
    this.compressors = new CompressorTable(plan);
    this.nodes = new NodeRates(plan, this.air);
    this.waters = new WaterTable(plan);
    this.lags = new LagTable(plan);
    this.rampStates = plan.layout.rampOf.filter((at) => at >= 0);
    this.rampSlopes = new Float64Array(this.rampStates.length);
  }

  /** Folds modes, cocks and faults into the flow paths. Call after any value beyond the states has changed. */
  refresh(x: Float64Array): void {
    this.orifices.refresh(x);
    this.compressors.refresh(x);
  }

  /** Writes f(x) for all states. Returns false when x lies outside the physical range. */
  evaluate(x: Float64Array, f: Float64Array): boolean {
    if (!this.air.update(x)) return false;
    const { inflow, inflowHeat } = this.nodes;
    const { audit } = this.plan.layout;
    inflow.fill(0);
    inflowHeat.fill(0);
    f[audit.massIn] = 0;
    f[audit.enthalpyIn] = 0;
    this.orifices.addFlows(x, this.air, inflow, inflowHeat);
    this.compressors.addFlows(x, inflow, inflowHeat, f);
    this.nodes.write(x, f);
    this.waters.addRates(x, f, this.air);
    for (let r = 0; r < this.rampStates.length; r++) f[this.rampStates[r]] = this.rampSlopes[r];
    this.lags.writeRates(x, f);
    return true;
  }

  /** Writes df/dx (entries of the plan's pattern). Call right after {@link evaluate} at the same x, with its f. */
  jacobian(x: Float64Array, f: Float64Array, jac: Float64Array): void {
    jac.fill(0);
    this.air.updateCurvature();
    this.orifices.addSlopes(x, this.air, jac);
    this.compressors.addSlopes(x, jac);
    this.nodes.finishSlopes(x, f, jac);
    this.waters.addSlopes(x, f, this.air, jac);
    this.lags.addSlopes(jac);
  }
}
