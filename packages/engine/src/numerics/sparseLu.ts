/**
 * LU factors of a matrix whose pattern never changes: order once, then run a flat list of multiply-subtracts.
 * Pivots are taken on the diagonal in a greedy minimum-degree order. That is sound here because the matrices are
 * `I / (h gamma) - J` of a dissipative network: strongly diagonal at the step sizes the error control allows.
 */
export interface SparsePattern {
  readonly size: number;
  /** Row of each stored entry. */
  readonly rows: ArrayLike<number>;
  /** Column of each stored entry. */
  readonly columns: ArrayLike<number>;
}

export interface SparseLuPlan {
  readonly size: number;
  /** Stored values, the given entries first in their given order, then diagonals that were missing, then fill. */
  readonly valueCount: number;
  readonly diagonal: Int32Array;
  readonly order: Int32Array;
  /** Per pivot: start in `lowerValue` / `lowerRow`. */
  readonly lowerStart: Int32Array;
  readonly lowerValue: Int32Array;
  readonly lowerRow: Int32Array;
  /** Per pivot: start in `upperValue` / `upperColumn`. */
  readonly upperStart: Int32Array;
  readonly upperValue: Int32Array;
  readonly upperColumn: Int32Array;
  /** Targets of the updates, in the order in which the elimination meets them. */
  readonly updateTarget: Int32Array;
}

class FillMap {
  readonly rowSets: Set<number>[];
  readonly columnSets: Set<number>[];
  private readonly positions = new Map<number, number>();
  count = 0;

  constructor(private readonly size: number) {
    this.rowSets = Array.from({ length: size }, () => new Set<number>());
    this.columnSets = Array.from({ length: size }, () => new Set<number>());
  }

  position(row: number, column: number): number | undefined {
    return this.positions.get(row * this.size + column);
  }

  /** Adds an entry, or returns where it already is. */
  ensure(row: number, column: number): number {
    const known = this.position(row, column);
    if (known !== undefined) return known;
    this.positions.set(row * this.size + column, this.count);
    this.rowSets[row].add(column);
    this.columnSets[column].add(row);
    this.count += 1;
    return this.count - 1;
  }
}

function cheapestPivot(map: FillMap, left: Set<number>): number {
  let best = -1;
  let bestCost = Infinity;
  for (const k of left) {
    const cost = (map.rowSets[k].size - 1) * (map.columnSets[k].size - 1);
    if (cost < bestCost) {
      bestCost = cost;
      best = k;
    }
  }
  return best;
}

function sorted(set: Set<number>, without: number): number[] {
  return [...set].filter((k) => k !== without).sort((a, b) => a - b);
}

/** Plans the elimination. Entries must be distinct; throws a RangeError when one repeats. */
export function planSparseLu(pattern: SparsePattern): SparseLuPlan {
  const n = pattern.size;
  const map = new FillMap(n);
  for (let e = 0; e < pattern.rows.length; e++) {
    if (map.ensure(pattern.rows[e], pattern.columns[e]) !== e) throw new RangeError(`entry ${e} repeats`);
  }
  const diagonal = Int32Array.from({ length: n }, (_, k) => map.ensure(k, k));
  const order: number[] = [];
  const lowerStart = [0];
  const lowerValue: number[] = [];
  const lowerRow: number[] = [];
  const upperStart = [0];
  const upperValue: number[] = [];
  const upperColumn: number[] = [];
  const updateTarget: number[] = [];
  const left = new Set(Array.from({ length: n }, (_, k) => k));
  while (left.size > 0) {
    const k = cheapestPivot(map, left);
    const rows = sorted(map.columnSets[k], k);
    const columns = sorted(map.rowSets[k], k);
    for (const j of columns) {
      upperValue.push(map.position(k, j)!);
      upperColumn.push(j);
    }
    for (const i of rows) {
      lowerValue.push(map.position(i, k)!);
      lowerRow.push(i);
      for (const j of columns) updateTarget.push(map.ensure(i, j));
    }
    for (const i of rows) map.rowSets[i].delete(k);
    for (const j of columns) map.columnSets[j].delete(k);
    left.delete(k);
    order.push(k);
    lowerStart.push(lowerRow.length);
    upperStart.push(upperColumn.length);
  }
  return {
    size: n,
    valueCount: map.count,
    diagonal,
    order: Int32Array.from(order),
    lowerStart: Int32Array.from(lowerStart),
    lowerValue: Int32Array.from(lowerValue),
    lowerRow: Int32Array.from(lowerRow),
    upperStart: Int32Array.from(upperStart),
    upperValue: Int32Array.from(upperValue),
    upperColumn: Int32Array.from(upperColumn),
    updateTarget: Int32Array.from(updateTarget),
  };
}

/** Replaces `values` (entries in plan order) by its factors. Diagonals are left as reciprocals. */
export function factorSparse(plan: SparseLuPlan, values: Float64Array): void {
  const { size, order, diagonal, lowerStart, lowerValue, upperStart, upperValue, updateTarget } = plan;
  let at = 0;
  for (let p = 0; p < size; p++) {
    const d = diagonal[order[p]]!;
    const inverse = 1 / values[d];
    values[d] = inverse;
    const u0 = upperStart[p];
    const u1 = upperStart[p + 1];
    const l1 = lowerStart[p + 1];
    for (let l = lowerStart[p]; l < l1; l++) {
      const v = lowerValue[l];
      const factor = values[v] * inverse;
      values[v] = factor;
      for (let u = u0; u < u1; u++) {
        const target = updateTarget[at];
        values[target] = values[target] - factor * values[upperValue[u]]!;
        at += 1;
      }
    }
  }
}

/** Solves with factored `values`; `vector` holds the right-hand side and receives the answer. */
export function solveSparse(plan: SparseLuPlan, values: Float64Array, vector: Float64Array): void {
  const { size, order, diagonal, lowerStart, lowerValue, lowerRow, upperStart, upperValue, upperColumn } = plan;
  for (let p = 0; p < size; p++) {
    const x = vector[order[p]]!;
    const l1 = lowerStart[p + 1];
    for (let l = lowerStart[p]; l < l1; l++) {
      const row = lowerRow[l];
      vector[row] = vector[row] - values[lowerValue[l]]! * x;
    }
  }
  for (let p = size - 1; p >= 0; p--) {
    const k = order[p];
    let x = vector[k];
    const u1 = upperStart[p + 1];
    for (let u = upperStart[p]; u < u1; u++) x -= values[upperValue[u]]! * vector[upperColumn[u]]!;
    vector[k] = x * values[diagonal[k]]!;
  }
}
