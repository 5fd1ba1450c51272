import type { LagSpec } from "../model/model.ts";
import {
  A21,
  A31,
  A32,
  A41,
  A42,
  A43,
  A51,
  A52,
  A53,
  A54,
  C21,
  C31,
  C32,
  C41,
  C42,
  C43,
  C51,
  C52,
  C53,
  C54,
  C61,
  C62,
  C63,
  C64,
  C65,
  D21,
  D22,
  D23,
  D24,
  D25,
  D31,
  D32,
  D33,
  D34,
  D35,
  GAMMA,
} from "../numerics/rodas.ts";
import { factorSparse, solveSparse } from "../numerics/sparseLu.ts";
import { type CodeMaker, straightLine, straightLu } from "../numerics/straightLine.ts";
import type { System } from "./system.ts";

/** Sizes below which a state's error is judged absolutely. */
const PRESSURE_FLOOR_PA = 1e5;
const MASS_FLOOR_KG = 1e-4;
const WATER_FLOOR_M3 = 1e-4;
/** A needle is followed to 0.02 psi a step at the default tolerance: finer than anyone reads. */
const NEEDLE_FLOOR_PA = 7e6;

export interface StepperCounts {
  steps: number;
  rejected: number;
  evaluations: number;
  factorizations: number;
}

/**
 * One step of RODAS4 on a {@link System}: from `start` over `h` to `end`, with an error estimate in units of the tolerance and an
 * interpolant over the step. Core states go through the factored matrix; trailing states (needles, audit sums) listen to the core
 * only, so their stage equations are solved by a sum once the core's are known.
 */
export class Stepper {
  readonly start: Float64Array;
  readonly end: Float64Array;
  readonly counts: StepperCounts = { steps: 0, rejected: 0, evaluations: 0, factorizations: 0 };
  private readonly system: System;
  private readonly f0: Float64Array;
  private readonly f: Float64Array;
  private readonly y: Float64Array;
  private readonly k1: Float64Array;
  private readonly k2: Float64Array;
  private readonly k3: Float64Array;
  private readonly k4: Float64Array;
  private readonly k5: Float64Array;
  private readonly k6: Float64Array;
  private readonly curve2: Float64Array;
  private readonly curve3: Float64Array;
  private readonly jac: Float64Array;
  private readonly lu: Float64Array;
  private readonly floor: Float64Array;
  private readonly trailing: TrailingRows;
  private readonly factor: (values: Float64Array) => void;
  private readonly solveCore: (values: Float64Array, vector: Float64Array) => void;
  private readonly solveTrailing: (jac: Float64Array, vector: Float64Array, shift: number) => void;

  /** With a code maker the linear algebra is straight-line code; without one it loops over tables. Same bits. */
  constructor(system: System, make: CodeMaker | undefined) {
    const { layout, lu, pattern } = system.plan;
    this.system = system;
    this.start = new Float64Array(layout.valueCount);
    this.end = new Float64Array(layout.valueCount);
    this.y = new Float64Array(layout.valueCount);
    this.f0 = new Float64Array(layout.stateCount);
    this.f = new Float64Array(layout.stateCount);
    this.k1 = new Float64Array(layout.stateCount);
    this.k2 = new Float64Array(layout.stateCount);
    this.k3 = new Float64Array(layout.stateCount);
    this.k4 = new Float64Array(layout.stateCount);
    this.k5 = new Float64Array(layout.stateCount);
    this.k6 = new Float64Array(layout.stateCount);
    this.curve2 = new Float64Array(layout.stateCount);
    this.curve3 = new Float64Array(layout.stateCount);
    this.jac = new Float64Array(pattern.rows.length);
    this.lu = new Float64Array(lu.valueCount);
    this.floor = errorFloors(system);
    this.trailing = trailingRows(system);
    const { lu: plan } = system.plan;
    const straight = make && straightLu(make, plan);
    this.factor = straight?.factor ?? ((values) => factorSparse(plan, values));
    this.solveCore = straight?.solve ?? ((values, vector) => solveSparse(plan, values, vector));
    this.solveTrailing = make
      ? trailingCode(make, this.trailing)
      : (j, b, shift) => solveTrailing(this.trailing, j, b, shift);
  }

  /** Call after `start` has been written: f and the Jacobian there are taken once, however often the step is tried. */
  begin(): boolean {
    this.y.set(this.start);
    this.end.set(this.start);
    this.counts.evaluations += 1;
    if (!this.system.evaluate(this.start, this.f0)) return false;
    this.system.jacobian(this.start, this.f0, this.jac);
    return true;
  }

  /** Tries a step of h seconds. Returns the error over the tolerance, or -1 when a stage left the physical range. */
  attempt(h: number, tolerance: number): number {
    this.prepareMatrix(h);
    if (!this.stages(h)) return -1;
    return this.errorNorm(tolerance);
  }

  private prepareMatrix(h: number): void {
    const { plan } = this.system;
    const { jac, lu } = this;
    const n = plan.coreEntries;
    for (let e = 0; e < n; e++) lu[e] = -jac[e];
    for (let e = n; e < lu.length; e++) lu[e] = 0;
    const diagonal = plan.lu.diagonal;
    const shift = 1 / (h * GAMMA);
    for (let i = 0; i < diagonal.length; i++) lu[diagonal[i]] = lu[diagonal[i]]! + shift;
    this.counts.factorizations += 1;
    this.factor(lu);
  }

  /** Solves for one stage in place. */
  private solve(vector: Float64Array, h: number): void {
    this.solveCore(this.lu, vector);
    this.solveTrailing(this.jac, vector, 1 / (h * GAMMA));
  }

  private stages(h: number): boolean {
    const { start, y, end, f, f0, system, counts } = this;
    const { k1, k2, k3, k4, k5, k6 } = this;
    const n = f.length;
    const i = 1 / h;
    counts.evaluations += 5;
    k1.set(f0);
    this.solve(k1, h);
    for (let s = 0; s < n; s++) y[s] = start[s] + A21 * k1[s];
    if (!system.evaluate(y, f)) return false;
    for (let s = 0; s < n; s++) k2[s] = f[s] + i * C21 * k1[s];
    this.solve(k2, h);
    for (let s = 0; s < n; s++) y[s] = start[s] + A31 * k1[s] + A32 * k2[s];
    if (!system.evaluate(y, f)) return false;
    for (let s = 0; s < n; s++) k3[s] = f[s] + i * (C31 * k1[s] + C32 * k2[s]);
    this.solve(k3, h);
    for (let s = 0; s < n; s++) y[s] = start[s] + A41 * k1[s] + A42 * k2[s] + A43 * k3[s];
    if (!system.evaluate(y, f)) return false;
    for (let s = 0; s < n; s++) k4[s] = f[s] + i * (C41 * k1[s] + C42 * k2[s] + C43 * k3[s]);
    this.solve(k4, h);
    for (let s = 0; s < n; s++) y[s] = start[s] + A51 * k1[s] + A52 * k2[s] + A53 * k3[s] + A54 * k4[s];
    if (!system.evaluate(y, f)) return false;
    for (let s = 0; s < n; s++) k5[s] = f[s] + i * (C51 * k1[s] + C52 * k2[s] + C53 * k3[s] + C54 * k4[s]);
    this.solve(k5, h);
    for (let s = 0; s < n; s++) y[s] = y[s] + k5[s];
    if (!system.evaluate(y, f)) return false;
    for (let s = 0; s < n; s++)
      k6[s] = f[s] + i * (C61 * k1[s] + C62 * k2[s] + C65 * k5[s] + C64 * k4[s] + C63 * k3[s]);
    this.solve(k6, h);
    for (let s = 0; s < n; s++) end[s] = y[s] + k6[s];
    return true;
  }

  private errorNorm(tolerance: number): number {
    const { start, end, floor } = this;
    const error = this.k6;
    let worst = 0;
    for (let s = 0; s < floor.length; s++) {
      const size = Math.max(Math.abs(start[s]), Math.abs(end[s]), floor[s]);
      const e = Math.abs(error[s]) / size;
      if (!(e <= worst)) worst = e;
    }
    return worst / tolerance;
  }

  /** Makes the interpolant of the step just taken ready. */
  finish(): void {
    const { k1, k2, k3, k4, k5 } = this;
    const { curve2, curve3 } = this;
    for (let s = 0; s < curve2.length; s++) {
      curve2[s] = D21 * k1[s] + D22 * k2[s] + D23 * k3[s] + D24 * k4[s] + D25 * k5[s];
      curve3[s] = D31 * k1[s] + D32 * k2[s] + D33 * k3[s] + D34 * k4[s] + D35 * k5[s];
    }
  }

  /** State number s at a fraction of the step, 0 at its start and 1 at its end. */
  at(s: number, fraction: number): number {
    if (s >= this.curve2.length) return this.start[s];
    const rest = 1 - fraction;
    return this.start[s] * rest + fraction * (this.end[s] + rest * (this.curve2[s] + fraction * this.curve3[s]));
  }

  /** All values at a fraction of the step. */
  interpolate(fraction: number, out: Float64Array): void {
    for (let s = 0; s < out.length; s++) out[s] = this.at(s, fraction);
  }
}

interface TrailingRows {
  readonly count: number;
  readonly first: number;
  readonly start: Int32Array;
  readonly position: Int32Array;
  readonly column: Int32Array;
  /** Position of the row's own diagonal, -1 for a pure sum. */
  readonly diagonal: Int32Array;
}

function trailingRows(system: System): TrailingRows {
  const { layout, pattern, rowStart, rowPosition } = system.plan;
  const count = layout.stateCount - layout.coreCount;
  const start = [0];
  const position: number[] = [];
  const column: number[] = [];
  const diagonal = new Int32Array(count).fill(-1);
  for (let t = 0; t < count; t++) {
    const row = layout.coreCount + t;
    for (let k = rowStart[row]; k < rowStart[row + 1]; k++) {
      const e = rowPosition[k];
      if (pattern.columns[e] === row) diagonal[t] = e;
      else {
        position.push(e);
        column.push(pattern.columns[e]);
      }
    }
    start.push(position.length);
  }
  return {
    count,
    first: layout.coreCount,
    start: Int32Array.from(start),
    position: Int32Array.from(position),
    column: Int32Array.from(column),
    diagonal,
  };
}

function errorFloors(system: System): Float64Array {
  const { layout, model } = system.plan;
  const needles = model.lags.filter((lag) => !lag.feedsBack).length;
  const floor = new Float64Array(layout.coreCount + needles).fill(PRESSURE_FLOOR_PA);
  for (const m of layout.massOf) if (m >= 0) floor[m] = MASS_FLOOR_KG;
  for (const w of layout.waterOf) floor[w] = WATER_FLOOR_M3;
  model.lags.forEach((lag: LagSpec, i) => {
    floor[layout.lagOf[i]] = lag.feedsBack ? lag.scale : NEEDLE_FLOOR_PA;
  });
  for (const r of layout.rampOf) if (r >= 0) floor[r] = Infinity;
  return floor;
}

/** Trailing states listen to the core and to themselves: each is a sum once the core is known. */
function solveTrailing(rows: TrailingRows, jac: Float64Array, vector: Float64Array, shift: number): void {
  const { count, first, start, position, column, diagonal } = rows;
  for (let t = 0; t < count; t++) {
    let sum = vector[first + t];
    for (let q = start[t]; q < start[t + 1]; q++) sum += jac[position[q]] * vector[column[q]];
    vector[first + t] = sum / (diagonal[t] < 0 ? shift : shift - jac[diagonal[t]]);
  }
}

/** The same as {@link solveTrailing} as code. */
function trailingCode(
  make: CodeMaker,
  rows: TrailingRows,
): (jac: Float64Array, vector: Float64Array, shift: number) => void {
  const { count, first, start, position, column, diagonal } = rows;
  const lines: string[] = [];
  for (let t = 0; t < count; t++) {
    let sum = `b[${first + t}]`;
    for (let q = start[t]; q < start[t + 1]; q++) sum += `+j[${position[q]}]*b[${column[q]}]`;
    lines.push(`b[${first + t}]=(${sum})/${diagonal[t] < 0 ? "s" : `(s-j[${diagonal[t]}])`};`);
  }
  return straightLine(make, "trailing", "j,b,s", lines);
}
