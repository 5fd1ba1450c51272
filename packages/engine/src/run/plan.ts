import type { EngineModel } from "../model/model.ts";
import { planSparseLu, type SparseLuPlan } from "../numerics/sparseLu.ts";
import { type CodeMaker, codeMaker } from "../numerics/straightLine.ts";
import { type GateTable, gateTable } from "./gateTable.ts";
import { indexOf, type Layout, layOut } from "./layout.ts";
import { Pattern, rowLists, sortedPattern } from "./pattern.ts";
import { compressorRows, orificeRows, type Rows, type RowTable, rowTable, temperatureColumns } from "./rowTable.ts";

/**
 * Everything about a model that does not change while it runs: indices, tables, the pattern of its Jacobian and the plan of its
 * elimination. Shared by any number of runs; nothing here is written to after it is made.
 */
export interface Plan {
  readonly model: EngineModel;
  readonly layout: Layout;
  readonly gates: GateTable;
  readonly rows: RowTable;
  readonly compressorRows: RowTable;
  readonly otherOf: Int32Array;
  readonly pattern: { readonly rows: number[]; readonly columns: number[] };
  readonly positionOf: (row: number, column: number) => number;
  /** Raw entries of each row, as positions (start per row). */
  readonly rowStart: Int32Array;
  readonly rowPosition: Int32Array;
  /** Core rows come first in the pattern; the factor plan uses only those. */
  readonly coreEntries: number;
  readonly lu: SparseLuPlan;
  readonly nodeColumnPosition: Int32Array; // 3 per node, in the heat row: p, m, other
  /** Makes the straight-line code of this vehicle, once for all its runs; undefined where code from text is forbidden. */
  readonly make: CodeMaker | undefined;
}

/** The other value that moves a node's volume: the partner in a spring brake chamber, or the water in a tank. */
function otherColumns(model: EngineModel, layout: Layout): Int32Array {
  const other = new Int32Array(model.nodes.length).fill(-1);
  for (const chamber of model.chambers) {
    if (!chamber.spring) continue;
    other[chamber.serviceNode] = chamber.spring.node;
    other[chamber.spring.node] = chamber.serviceNode;
  }
  model.nodes.forEach((node, i) => {
    if (node.water !== undefined) other[i] = layout.waterOf[node.water];
  });
  return other;
}

function addToPattern(pattern: Pattern, rows: readonly Rows[]): void {
  for (const r of rows) for (const { row } of r.list) for (const column of r.columns) pattern.add(row, column);
}

/** Entries that come from the nodes themselves: own column, partner's row, wall heat, water, lags. */
function addNodeEntries(model: EngineModel, layout: Layout, other: Int32Array, pattern: Pattern): void {
  for (let i = 0; i < layout.nodeCount; i++) {
    pattern.add(i, i);
    const mass = layout.massOf[i];
    if (other[i] >= 0) pattern.add(i, other[i]);
    if (mass < 0) continue;
    pattern.add(i, mass);
    for (const column of temperatureColumns(layout, other, i)) pattern.add(layout.audit.heatOut, column);
  }
  model.waters.forEach((water, w) => {
    pattern.add(layout.waterOf[w], layout.waterOf[w]);
    pattern.add(layout.waterOf[w], water.node);
    pattern.add(water.node, layout.waterOf[w]);
  });
  model.lags.forEach((lag, i) => {
    pattern.add(layout.lagOf[i], layout.lagOf[i]);
    for (const t of lag.mix.terms) {
      const column = indexOf(layout, t.of);
      if (column < layout.stateCount) pattern.add(layout.lagOf[i], column);
    }
  });
}

/** The two pressure rows of a spring brake chamber are mixed by a 2 x 2 solve, so each needs every column of the other. */
function mergePairRows(model: EngineModel, pattern: Pattern): void {
  for (const chamber of model.chambers) {
    if (!chamber.spring) continue;
    const pair = [chamber.serviceNode, chamber.spring.node];
    const columns = new Set<number>();
    pattern.rows.forEach((row, e) => {
      if (pair.includes(row)) columns.add(pattern.columns[e]);
    });
    for (const row of pair) for (const column of [...columns].sort((a, b) => a - b)) pattern.add(row, column);
  }
}

export function makePlan(model: EngineModel): Plan {
  const layout = layOut(model);
  const gates = gateTable(model, layout);
  const otherOf = otherColumns(model, layout);
  const orifices = orificeRows(model, layout, otherOf, gates);
  const compressors = compressorRows(model, layout);
  const raw = new Pattern(layout.stateCount);
  addToPattern(raw, orifices);
  addToPattern(raw, compressors);
  addNodeEntries(model, layout, otherOf, raw);
  mergePairRows(model, raw);
  const pattern = sortedPattern(raw, layout.stateCount, layout.coreCount);
  const positionOf = (row: number, column: number): number => pattern.position(row, column);
  const coreEntries = pattern.rows.filter((row) => row < layout.coreCount).length;
  const lu = planSparseLu({
    size: layout.coreCount,
    rows: pattern.rows.slice(0, coreEntries),
    columns: pattern.columns.slice(0, coreEntries),
  });
  const heat = layout.audit.heatOut;
  const nodeColumnPosition = new Int32Array(layout.nodeCount * 3).fill(-1);
  for (let i = 0; i < layout.nodeCount; i++) {
    if (layout.massOf[i] < 0) continue;
    temperatureColumns(layout, otherOf, i).forEach((column, k) => {
      nodeColumnPosition[i * 3 + k] = positionOf(heat, column);
    });
  }
  return {
    model,
    layout,
    gates,
    rows: rowTable(orifices, positionOf),
    compressorRows: rowTable(compressors, positionOf),
    otherOf,
    pattern,
    positionOf,
    ...rowLists(pattern, layout.stateCount),
    coreEntries,
    lu,
    nodeColumnPosition,
    make: codeMaker(),
  };
}
