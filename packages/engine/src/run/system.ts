import { type CodeMaker, CodeWriter, straightLine } from "../numerics/straightLine.ts";
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

  private readonly bad = new Float64Array(1);
  private readonly code: Written | undefined;

  /** With a code maker the tables are written out as straight-line code; without one they are looped over. Same bits. */
  constructor(plan: Plan, make: CodeMaker | undefined) {
    this.plan = plan;
    this.air = new AirState(plan);
    this.orifices = new OrificeTable(plan);
    this.compressors = new CompressorTable(plan);
    this.nodes = new NodeRates(plan, this.air);
    this.waters = new WaterTable(plan);
    this.lags = new LagTable(plan);
    this.rampStates = plan.layout.rampOf.filter((at) => at >= 0);
    this.rampSlopes = new Float64Array(this.rampStates.length);
    this.code = make && this.writeOut(make);
  }

  /** Folds modes, cocks and faults into the flow paths. Call after any value beyond the states has changed. */
  refresh(x: Float64Array): void {
    this.orifices.refresh(x);
    this.compressors.refresh(x);
  }

  private writeOut(make: CodeMaker): Written {
    const part = (name: string, write: (code: CodeWriter) => void, given = "x,f"): Part => {
      const code = new CodeWriter();
      write(code);
      return { run: straightLine<Rates>(make, name, given, code.lines, Object.keys(code.own)), own: code.own };
    };
    const { inflow, inflowHeat } = this.nodes;
    return {
      air: part("air", (code) => this.air.write(code, code.bind(this.bad))),
      flows: part("flows", (code) => this.orifices.write(code, this.air, inflow, inflowHeat)),
      nodes: part("nodes", (code) => {
        this.nodes.writeCode(code);
        this.lags.write(code);
      }),
      slopes: part("slopes", (code) => this.orifices.writeSlopes(code, this.air), "x,j"),
    };
  }

  /** Writes f(x) for all states. Returns false when x lies outside the physical range. */
  evaluate(x: Float64Array, f: Float64Array): boolean {
    const { inflow, inflowHeat } = this.nodes;
    const { audit } = this.plan.layout;
    const code = this.code;
    inflow.fill(0);
    inflowHeat.fill(0);
    f[audit.massIn] = 0;
    f[audit.enthalpyIn] = 0;
    if (code) {
      this.bad[0] = 0;
      code.air.run(x, f, code.air.own);
      if (this.bad[0] !== 0) return false;
      code.flows.run(x, f, code.flows.own);
    } else {
      if (!this.air.update(x)) return false;
      this.orifices.addFlows(x, this.air, inflow, inflowHeat);
    }
    this.compressors.addFlows(x, inflow, inflowHeat, f);
    if (code) code.nodes.run(x, f, code.nodes.own);
    else {
      this.nodes.write(x, f);
      this.lags.writeRates(x, f);
    }
    this.waters.addRates(x, f, this.air);
    for (let r = 0; r < this.rampStates.length; r++) f[this.rampStates[r]] = this.rampSlopes[r];
    return true;
  }

  /** Writes df/dx (entries of the plan's pattern). Call right after {@link evaluate} at the same x, with its f. */
  jacobian(x: Float64Array, f: Float64Array, jac: Float64Array): void {
    jac.fill(0);
    this.air.updateCurvature();
    this.air.updateTemperatureSlopes(x);
    const slopes = this.code?.slopes;
    if (slopes) slopes.run(x, jac, slopes.own);
    else this.orifices.addSlopes(x, this.air, jac);
    this.compressors.addSlopes(x, jac);
    this.nodes.finishSlopes(x, f, jac);
    this.waters.addSlopes(x, f, this.air, jac);
    this.lags.addSlopes(jac);
  }
}

type Own = Readonly<Record<string, Float64Array>>;
type Rates = (x: Float64Array, f: Float64Array, own: Own) => void;

interface Part {
  readonly run: Rates;
  readonly own: Own;
}

interface Written {
  readonly air: Part;
  readonly flows: Part;
  readonly nodes: Part;
  readonly slopes: Part;
}
