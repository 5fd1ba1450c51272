import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { factorSparse, planSparseLu, solveSparse } from "../../src/numerics/sparseLu.ts";
import { codeMaker, straightLu } from "../../src/numerics/straightLine.ts";

interface Entry {
  readonly row: number;
  readonly column: number;
  readonly value: number;
}

interface Problem {
  readonly size: number;
  readonly entries: readonly Entry[];
  readonly answer: readonly number[];
}

/** Sparse and diagonally dominant, as `I / (h gamma) - J` of a network is; some diagonals come last, as fill. */
const problem: fc.Arbitrary<Problem> = fc.integer({ min: 1, max: 14 }).chain((size) => {
  const index = fc.nat({ max: size - 1 });
  const value = fc.double({ min: -1, max: 1, noNaN: true });
  const entry = fc.record({ row: index, column: index, value });
  return fc.record({
    size: fc.constant(size),
    entries: fc.uniqueArray(entry, { maxLength: 3 * size, selector: (e) => e.row * size + e.column }),
    answer: fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: size, maxLength: size }),
  });
});

/** The matrix in full, its diagonal raised above the sum of its row. */
function dense({ size, entries }: Problem): number[][] {
  const full = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (const { row, column, value } of entries) if (row !== column) full[row]![column] = value;
  full.forEach((row, i) => {
    row[i] = 0.5 + row.reduce((sum, v) => sum + Math.abs(v), 0);
  });
  return full;
}

/** Gauss with row exchanges, the plain way. */
function solveDense(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const a = matrix.map((row, i) => [...row, right[i]!]);
  const n = a.length;
  for (let k = 0; k < n; k++) {
    const pivot = a.slice(k).reduce((best, row, i) => (Math.abs(row[k]!) > Math.abs(a[best]![k]!) ? k + i : best), k);
    [a[k], a[pivot]] = [a[pivot]!, a[k]!];
    for (let i = k + 1; i < n; i++) {
      const factor = a[i]![k]! / a[k]![k]!;
      for (let j = k; j <= n; j++) a[i]![j] = a[i]![j]! - factor * a[k]![j]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    const rest = x.reduce((sum, v, j) => (j > k ? sum + a[k]![j]! * v : sum), 0);
    x[k] = (a[k]![n]! - rest) / a[k]![k]!;
  }
  return x;
}

function times(matrix: readonly (readonly number[])[], x: readonly number[]): number[] {
  return matrix.map((row) => row.reduce((sum, v, j) => sum + v * x[j]!, 0));
}

function filled(problem: Problem, matrix: readonly (readonly number[])[]) {
  const plan = planSparseLu({
    size: problem.size,
    rows: problem.entries.map((e) => e.row),
    columns: problem.entries.map((e) => e.column),
  });
  const values = new Float64Array(plan.valueCount);
  problem.entries.forEach(({ row, column }, e) => {
    values[e] = matrix[row]![column]!;
  });
  plan.diagonal.forEach((at, i) => {
    values[at] = matrix[i]![i]!;
  });
  return { plan, values };
}

describe("sparse LU factors", () => {
  it("solve what a dense solver solves, on random dominant patterns", () => {
    fc.assert(
      fc.property(problem, (given) => {
        const matrix = dense(given);
        const right = times(matrix, given.answer);
        const { plan, values } = filled(given, matrix);
        factorSparse(plan, values);
        const vector = Float64Array.from(right);
        solveSparse(plan, values, vector);
        solveDense(matrix, right).forEach((x, i) => {
          expect(Math.abs(vector[i]! - x)).toBeLessThan(1e-9);
        });
      }),
      { numRuns: 300, seed: 20261128 },
    );
  });

  it("take each row and column as pivot once", () => {
    fc.assert(
      fc.property(problem, (given) => {
        const { plan } = filled(given, dense(given));
        expect([...plan.order].sort((a, b) => a - b)).toEqual(Array.from({ length: given.size }, (_, k) => k));
      }),
      { numRuns: 50, seed: 20261129 },
    );
  });

  it("fill nothing in on a star whose centre is named first", () => {
    const leaves = [1, 2, 3, 4, 5];
    const rows = [0, ...leaves, ...leaves.map(() => 0), ...leaves];
    const columns = [0, ...leaves, ...leaves, ...leaves.map(() => 0)];
    expect(planSparseLu({ size: 6, rows, columns }).valueCount).toBe(rows.length);
  });

  it("give the same bits as straight-line code", () => {
    const make = codeMaker()!;
    fc.assert(
      fc.property(problem, (given) => {
        const matrix = dense(given);
        const { plan, values } = filled(given, matrix);
        const straight = straightLu(make, plan);
        const [a, b] = [values.slice(), values.slice()];
        const [x, y] = [Float64Array.from(given.answer), Float64Array.from(given.answer)];
        factorSparse(plan, a);
        solveSparse(plan, a, x);
        straight.factor(b);
        straight.solve(b, y);
        expect([...b, ...y]).toEqual([...a, ...x]);
      }),
      { numRuns: 50, seed: 20261130 },
    );
  });

  it("refuse an entry that stands twice", () => {
    expect(() => planSparseLu({ size: 2, rows: [0, 1, 0], columns: [1, 0, 1] })).toThrow("entry 2 repeats");
  });
});
