import { type CodeWriter, literal } from "../numerics/straightLine.ts";
import { indexOf } from "./layout.ts";
import type { Plan } from "./plan.ts";

/** First-order lags, value' = (mix - value) / time constant, as flat columns. */
export class LagTable {
  private readonly at: Int32Array;
  private readonly rate: Float64Array;
  private readonly offset: Float64Array;
  private readonly start: Int32Array;
  private readonly index: Int32Array;
  private readonly weight: Float64Array;
  /** Positions in the Jacobian of own diagonals and of terms (-1 for values constant within a step). */
  private readonly diagonal: Int32Array;
  private readonly position: Int32Array;

  constructor(plan: Plan) {
    const { model, layout, positionOf } = plan;
    const terms = model.lags.map((lag) => lag.mix.terms);
    this.at = Int32Array.from(layout.lagOf);
    this.rate = Float64Array.from(model.lags, (lag) => 1 / lag.timeConstantS);
    this.offset = Float64Array.from(model.lags, (lag) => lag.mix.offset);
    this.index = Int32Array.from(terms.flat(), (t) => indexOf(layout, t.of));
    this.weight = Float64Array.from(terms.flat(), (t) => t.weight);
    this.start = new Int32Array(terms.length + 1);
    terms.forEach((list, l) => {
      this.start[l + 1] = this.start[l] + list.length;
    });
    this.diagonal = Int32Array.from(layout.lagOf, (at) => positionOf(at, at));
    this.position = new Int32Array(this.index.length).fill(-1);
    for (let l = 0; l < this.at.length; l++) {
      for (let k = this.start[l]; k < this.start[l + 1]; k++) {
        if (this.index[k] < layout.stateCount) this.position[k] = positionOf(this.at[l], this.index[k]);
      }
    }
  }

  writeRates(x: Float64Array, f: Float64Array): void {
    const { at, rate, offset, start, index, weight } = this;
    for (let l = 0; l < at.length; l++) {
      let e = offset[l] - x[at[l]];
      for (let k = start[l]; k < start[l + 1]; k++) e += weight[k] * x[index[k]];
      f[at[l]] = e * rate[l];
    }
  }

  /** The same as {@link writeRates} as code. */
  write(code: CodeWriter): void {
    this.at.forEach((at, l) => {
      let sum = `${literal(this.offset[l])}-x[${at}]`;
      for (let k = this.start[l]; k < this.start[l + 1]; k++) sum += `+${literal(this.weight[k])}*x[${this.index[k]}]`;
      code.line(`f[${at}]=(${sum})*${literal(this.rate[l])};`);
    });
  }

  addSlopes(jac: Float64Array): void {
    for (let l = 0; l < this.at.length; l++) {
      jac[this.diagonal[l]] -= this.rate[l];
      for (let k = this.start[l]; k < this.start[l + 1]; k++) {
        if (this.position[k] >= 0) jac[this.position[k]] += this.weight[k] * this.rate[l];
      }
    }
  }
}
