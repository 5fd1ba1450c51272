import { ATMOSPHERE } from "../model/model.ts";
import { REFERENCE_DENSITY } from "../numerics/gas.ts";
import { FLOW_FACTOR_CODE, FLOW_FACTOR_SLOPE_CODE, flowFactor, flowFactorSlope } from "../numerics/orificeFlow.ts";
import { ramp, rampCode, rampSlope, rampSlopeCode, smoothStep, smoothStepSlope } from "../numerics/smooth.ts";
import { type CodeWriter, literal } from "../numerics/straightLine.ts";
import type { AirState } from "./airState.ts";
import { GATE_SLOTS, type GateTable } from "./gateTable.ts";
import { indexOf } from "./layout.ts";
import type { Plan } from "./plan.ts";
import { scatter, scatterCode } from "./rowTable.ts";

/** Conductance as the flow formula wants it: kg/(s Pa). */
function massConductance(sonicConductance: number): number {
  return sonicConductance * REFERENCE_DENSITY;
}

/** Rounding where one pilot piston takes over from another, Pa. */
export const PILOT_HANDOVER_PA = 1500;
const MAX_COLUMNS = 24;

/** All orifices and valves of a vehicle as columns: their openings, flows and the slopes of those. */
export class OrificeTable {
  /** Flow through each orifice at the last evaluation, kg/s, and how far its seats stand open, 0..1. */
  readonly flow: Float64Array;
  readonly opening: Float64Array;
  private readonly plan: Plan;
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
  /** Per column: which of a node's temperature slopes it is, when that node is upstream. */
  private readonly slopeOfFrom: Uint8Array;
  private readonly slopeOfTo: Uint8Array;
  private readonly flowBy = new Float64Array(MAX_COLUMNS);
  private readonly heatBy = new Float64Array(MAX_COLUMNS);

  constructor(plan: Plan) {
    const { layout } = plan;
    const { orifices } = plan.model;
    const nodeOf = (node: number): number => (node === ATMOSPHERE ? layout.nodeCount : node);
    const stateOf = (node: number): number => (node === ATMOSPHERE ? layout.atmosphere : node);
    this.plan = plan;
    this.from = Int32Array.from(orifices, (o) => nodeOf(o.from));
    this.to = Int32Array.from(orifices, (o) => nodeOf(o.to));
    this.fromAt = Int32Array.from(orifices, (o) => stateOf(o.from));
    this.toAt = Int32Array.from(orifices, (o) => stateOf(o.to));
    this.full = Float64Array.from(orifices, (o) => massConductance(o.conductance));
    this.conductance = this.full.slice();
    this.inverseSpan = Float64Array.from(orifices, (o) => 1 / (1 - o.criticalRatio));
    this.factors = orifices.map((o) => Int32Array.from(o.factors, (s) => indexOf(layout, s)));
    this.active = new Int32Array(orifices.length);
    this.slopeOfFrom = this.slopeKinds((e) => this.from[e]);
    this.slopeOfTo = this.slopeKinds((e) => this.to[e]);
    this.flow = new Float64Array(orifices.length);
    this.opening = new Float64Array(orifices.length);
  }

  private slopeKinds(upstream: (e: number) => number): Uint8Array {
    const { rows, layout, otherOf } = this.plan;
    const kinds = new Uint8Array(rows.column.length);
    for (let e = 0; e < this.full.length; e++) {
      const node = upstream(e);
      if (node === layout.nodeCount || layout.massOf[node] < 0) continue;
      for (let c = rows.columnStart[e]; c < rows.columnStart[e + 1]; c++) {
        const column = rows.column[c];
        kinds[c] = column === node ? 1 : column === layout.massOf[node] ? 2 : column === otherOf[node] ? 3 : 0;
      }
    }
    return kinds;
  }

  /** Folds modes, cocks and faults into the conductances; those at zero drop out until the next call. */
  refresh(x: Float64Array): void {
    this.activeCount = 0;
    for (let e = 0; e < this.full.length; e++) {
      let k = this.full[e];
      const factors = this.factors[e];
      for (let i = 0; i < factors.length; i++) k *= x[factors[i]];
      this.conductance[e] = k;
      this.flow[e] = 0;
      this.opening[e] = 0;
      if (k > 0) {
        this.active[this.activeCount] = e;
        this.activeCount += 1;
      }
    }
  }

  /** Adds every flow to the nodes it leaves and enters: kg/s, and kg K/s at the temperature it comes with. */
  addFlows(x: Float64Array, air: AirState, inflow: Float64Array, inflowHeat: Float64Array): void {
    const { temperatureK, warmth } = air;
    const { from, to, fromAt, toAt, flow, opening, active, activeCount, conductance, inverseSpan } = this;
    const { gates } = this.plan;
    const { start } = gates;
    for (let k = 0; k < activeCount; k++) {
      const e = active[k];
      let open = 1;
      for (let g = start[e]; g < start[e + 1] && open > 0; g++) open *= smoothStep(gateTravel(gates, g, x));
      opening[e] = open;
      if (open === 0) {
        flow[e] = 0;
        continue;
      }
      const pa = x[fromAt[e]];
      const pb = x[toAt[e]];
      const a = from[e];
      const b = to[e];
      let w: number;
      let heat: number;
      if (pa >= pb) {
        w = conductance[e] * open * pa * warmth[a] * flowFactor((1 - pb / pa) * inverseSpan[e]);
        heat = w * temperatureK[a];
      } else {
        w = -conductance[e] * open * pb * warmth[b] * flowFactor((1 - pa / pb) * inverseSpan[e]);
        heat = w * temperatureK[b];
      }
      flow[e] = w;
      inflow[a] -= w;
      inflow[b] += w;
      inflowHeat[a] -= heat;
      inflowHeat[b] += heat;
    }
  }

  /** The same as {@link addFlows} as code. */
  write(code: CodeWriter, air: AirState, inflow: Float64Array, inflowHeat: Float64Array): void {
    const [t, z, w, h, k] = [air.temperatureK, air.warmth, inflow, inflowHeat, this.conductance].map((a) =>
      code.bind(a),
    );
    const flow = code.bind(this.flow);
    const opening = code.bind(this.opening);
    for (let e = 0; e < this.full.length; e++) {
      const a = this.from[e];
      const b = this.to[e];
      const span = literal(this.inverseSpan[e]);
      code.line(
        `{const k=${k}[${e}];if(k>0){let o=1;${this.gateCode(e)}${opening}[${e}]=o;if(o===0){${flow}[${e}]=0;}else{` +
          `const p=x[${this.fromAt[e]}],q=x[${this.toAt[e]}];let w,h;` +
          `if(p>=q){const u=(1-q/p)*${span};w=k*o*p*${z}[${a}]*${FLOW_FACTOR_CODE};h=w*${t}[${a}];}` +
          `else{const u=(1-p/q)*${span};w=-k*o*q*${z}[${b}]*${FLOW_FACTOR_CODE};h=w*${t}[${b}];}` +
          `${flow}[${e}]=w;${w}[${a}]-=w;${w}[${b}]+=w;${h}[${a}]-=h;${h}[${b}]+=h;}}}`,
      );
    }
  }

  private gateCode(e: number): string {
    const { gates } = this.plan;
    let text = "";
    for (let g = gates.start[e]; g < gates.start[e + 1]; g++) {
      text += `{${this.travelCode(g)}o*=t${g}<=0?0:t${g}>=1?1:t${g}*t${g}*(3-2*t${g});}`;
    }
    return text;
  }

  /** Leaves the travel of gate g in a constant tg and, where it has two pilots, the lead of the first in dg_. */
  private travelCode(g: number): string {
    const { gates } = this.plan;
    const term = (slot: number): string =>
      `${literal(gates.weight[g * GATE_SLOTS + slot])}*x[${gates.index[g * GATE_SLOTS + slot]}]`;
    let sum = literal(gates.offset[3 * g]);
    for (let k = 0; k < gates.terms[g]; k++) sum += `+${term(k)}`;
    const width = literal(gates.inverseWidth[g]);
    const sign = gates.pairSign[g];
    if (sign === 0) return `const t${g}=(${sum})*${width};`;
    const pair = (which: number): string =>
      `(${literal(gates.offset[3 * g + 1 + which])}+${term(4 + 2 * which)}+${term(5 + 2 * which)})`;
    const lead = rampCode(`d${g}_`, `${PILOT_HANDOVER_PA}`);
    return `const g${g}=${pair(1)},d${g}_=${pair(0)}-g${g},t${g}=(${sum}+${literal(sign)}*(g${g}+${lead}))*${width};`;
  }

  /** Adds the slopes of every flow to the rows it writes to. Call after {@link addFlows} at the same values. */
  addSlopes(x: Float64Array, air: AirState, jac: Float64Array): void {
    const { rows, gates } = this.plan;
    const { flowBy, heatBy } = this;
    for (let k = 0; k < this.activeCount; k++) {
      const e = this.active[k];
      const open = this.opening[e];
      if (open === 0) continue;
      const forward = x[this.fromAt[e]] >= x[this.toAt[e]];
      const upAt = forward ? this.fromAt[e] : this.toAt[e];
      const downAt = forward ? this.toAt[e] : this.fromAt[e];
      const up = x[upAt];
      const r = x[downAt] / up;
      const span = this.inverseSpan[e];
      const phi = flowFactor((1 - r) * span);
      const phiSlope = flowFactorSlope((1 - r) * span, phi);
      const source = forward ? this.from[e] : this.to[e];
      const base = (forward ? 1 : -1) * this.conductance[e] * air.warmth[source];
      const byUp = base * open * (phi + phiSlope * r * span);
      const byDown = -base * open * phiSlope * span;
      const w = this.flow[e];
      const t = air.temperatureK[source];
      const slopeKind = forward ? this.slopeOfFrom : this.slopeOfTo;
      const c0 = rows.columnStart[e];
      const c1 = rows.columnStart[e + 1];
      for (let c = c0; c < c1; c++) {
        const column = rows.column[c];
        const dt = air.temperatureSlopes[4 * source + slopeKind[c]];
        const dw = (column === upAt ? byUp : column === downAt ? byDown : 0) - (0.5 * w * dt) / t;
        flowBy[c - c0] = dw;
        heatBy[c - c0] = t * dw + w * dt;
      }
      if (gates.start[e + 1] > gates.start[e]) this.addGateSlopes(e, x, base * up * phi, t, c0, c1);
      scatter(rows, e, c1 - c0, flowBy, heatBy, jac);
    }
  }

  /** The same as {@link addSlopes} as code. */
  writeSlopes(code: CodeWriter, air: AirState): void {
    const arrays = [air.temperatureK, air.warmth, air.temperatureSlopes, this.conductance, this.flow, this.opening];
    const [t, z, s, k, flow, opening] = arrays.map((a) => code.bind(a));
    for (let e = 0; e < this.full.length; e++) {
      const a = this.from[e];
      const b = this.to[e];
      const columns = this.columnsOf(e);
      const names = columns.map((_, c) => `d${c}=0,e${c}=0`).join();
      code.line(
        `{const o=${opening}[${e}];if(${k}[${e}]>0&&o!==0){const p=x[${this.fromAt[e]}],q=x[${this.toAt[e]}],w=${flow}[${e}];` +
          `let g=0,t=0${names === "" ? "" : `,${names}`};` +
          `if(p>=q){t=${t}[${a}];const r=q/p;${this.slopeCode(e, `${k}[${e}]*${z}[${a}]`, "p")}` +
          `${this.columnCode(e, columns, a, s, this.slopeOfFrom, this.fromAt[e], this.toAt[e])}}` +
          `else{t=${t}[${b}];const r=p/q;${this.slopeCode(e, `-${k}[${e}]*${z}[${b}]`, "q")}` +
          `${this.columnCode(e, columns, b, s, this.slopeOfTo, this.toAt[e], this.fromAt[e])}}` +
          `${this.gateSlopeCode(e, columns)}${scatterCode(this.plan.rows, e, columns.length)}}}`,
      );
    }
  }

  private columnsOf(e: number): number[] {
    const { rows } = this.plan;
    return Array.from(rows.column.slice(rows.columnStart[e], rows.columnStart[e + 1]));
  }

  private slopeCode(e: number, base: string, up: string): string {
    const span = literal(this.inverseSpan[e]);
    return (
      `const u=(1-r)*${span},h=${FLOW_FACTOR_CODE},v=${FLOW_FACTOR_SLOPE_CODE},m=${base};` +
      `const i=m*o*(h+v*r*${span}),n=-m*o*v*${span};g=m*${up}*h;`
    );
  }

  private columnCode(
    e: number,
    columns: readonly number[],
    source: number,
    slopes: string,
    kinds: Uint8Array,
    up: number,
    down: number,
  ): string {
    const first = this.plan.rows.columnStart[e];
    return columns
      .map((column, c) => {
        const kind = kinds[first + c];
        const own = column === up ? "i" : column === down ? "n" : "0";
        if (kind === 0) return own === "0" ? "" : `d${c}=${own};e${c}=t*d${c};`;
        return `{const y=${slopes}[${4 * source + kind}];d${c}=${own}-(0.5*w*y)/t;e${c}=t*d${c}+w*y;}`;
      })
      .join("");
  }

  private gateSlopeCode(e: number, columns: readonly number[]): string {
    const { gates } = this.plan;
    const list = Array.from({ length: gates.start[e + 1] - gates.start[e] }, (_, k) => gates.start[e] + k);
    if (list.length === 0) return "";
    const text = list.map((gate) => `${this.travelCode(gate)}`).join("");
    const step = (gate: number): string => `(t${gate}<=0?0:t${gate}>=1?1:t${gate}*t${gate}*(3-2*t${gate}))`;
    const parts = list.map((gate) => {
      const others = list.filter((h) => h !== gate).map(step);
      const slope = `6*t${gate}*(1-t${gate})`;
      const byMix = `const y=g*${others.length === 0 ? "1" : `(${others.join("*")})`}*(${slope})*${literal(gates.inverseWidth[gate])};`;
      return `if(t${gate}>0&&t${gate}<1){${byMix}${this.slotCode(gate, columns)}}`;
    });
    return text + parts.join("");
  }

  private slotCode(gate: number, columns: readonly number[]): string {
    const { gates } = this.plan;
    const sign = gates.pairSign[gate];
    let text = sign === 0 ? "" : `const c=${rampSlopeCode(`d${gate}_`, `${PILOT_HANDOVER_PA}`)};`;
    for (let slot = 0; slot < GATE_SLOTS; slot++) {
      const weight = gates.weight[gate * GATE_SLOTS + slot];
      const c = columns.indexOf(gates.index[gate * GATE_SLOTS + slot]);
      if (weight === 0 || c < 0) continue;
      const share = slot < 4 ? "1" : `(${literal(sign)}*${slot < 6 ? "c" : "(1-c)"})`;
      text += `{const k=y*${literal(weight)}*${share};d${c}+=k;e${c}+=t*k;}`;
    }
    return text;
  }

  /** Slope of the opening by each signal that a seat listens to. `wide` is the flow with this orifice wide open. */
  private addGateSlopes(e: number, x: Float64Array, wide: number, t: number, c0: number, c1: number): void {
    const { gates } = this.plan;
    const g1 = gates.start[e + 1];
    for (let g = gates.start[e]; g < g1; g++) {
      const slope = smoothStepSlope(gateTravel(gates, g, x));
      if (slope === 0) continue;
      let others = 1;
      for (let h = gates.start[e]; h < g1; h++) if (h !== g) others *= smoothStep(gateTravel(gates, h, x));
      this.addOneGate(g, x, wide * others * slope * gates.inverseWidth[g], t, c0, c1);
    }
  }

  private addOneGate(g: number, x: Float64Array, byMix: number, t: number, c0: number, c1: number): void {
    const { gates, rows } = this.plan;
    const sign = gates.pairSign[g];
    const share = sign !== 0 ? rampSlope(firstLead(gates, g, x), PILOT_HANDOVER_PA) : 0;
    for (let s = 0; s < GATE_SLOTS; s++) {
      const weight = gates.weight[g * GATE_SLOTS + s];
      if (weight === 0) continue;
      const dw = byMix * weight * (s < 4 ? 1 : sign * (s < 6 ? share : 1 - share));
      const column = gates.index[g * GATE_SLOTS + s];
      for (let c = c0; c < c1; c++) {
        if (rows.column[c] !== column) continue;
        this.flowBy[c - c0] += dw;
        this.heatBy[c - c0] += t * dw;
      }
    }
  }
}

/** How far past its cracking point a seat is, in widths. */
function gateTravel(gates: GateTable, g: number, x: Float64Array): number {
  const { index, weight } = gates;
  const s = g * GATE_SLOTS;
  let e = gates.offset[3 * g];
  for (let k = s; k < s + gates.terms[g]; k++) e += weight[k] * x[index[k]];
  const sign = gates.pairSign[g];
  if (sign !== 0) e += sign * (pairMix(gates, g, 1, x) + ramp(firstLead(gates, g, x), PILOT_HANDOVER_PA));
  return e * gates.inverseWidth[g];
}

function pairMix(gates: GateTable, g: number, which: number, x: Float64Array): number {
  const s = g * GATE_SLOTS + 4 + 2 * which;
  const { index, weight } = gates;
  return gates.offset[3 * g + 1 + which] + weight[s] * x[index[s]] + weight[s + 1] * x[index[s + 1]];
}

/** By how much the first of a gate's two pilots leads the second. */
function firstLead(gates: GateTable, g: number, x: Float64Array): number {
  return pairMix(gates, g, 0, x) - pairMix(gates, g, 1, x);
}
