import { ATMOSPHERE, type EngineModel, type Gate, type Mix } from "../model/model.ts";
import { CP, CV, GAS_CONSTANT, REFERENCE_DENSITY } from "../numerics/gas.ts";
import { planSparseLu, type SparseLuPlan } from "../numerics/sparseLu.ts";
import { type CodeMaker, codeMaker, literal } from "../numerics/straightLine.ts";
import { indexOf, type Layout, layOut } from "./layout.ts";

/** A linear mix flattened to indices in `x`. */
export interface FlatMix {
  readonly index: Int32Array;
  readonly weight: Float64Array;
  readonly offset: number;
}

export function flattenMix(layout: Layout, m: Mix): FlatMix {
  return {
    index: Int32Array.from(m.terms, (t) => indexOf(layout, t.of)),
    weight: Float64Array.from(m.terms, (t) => t.weight),
    offset: m.offset,
  };
}

export function mixValue(m: FlatMix, x: Float64Array): number {
  let e = m.offset;
  for (let k = 0; k < m.index.length; k++) e += m.weight[k] * x[m.index[k]]!;
  return e;
}

/** Slots a gate has: four in its own mix, then two and two in the pair whose greater one counts. */
export const GATE_SLOTS = 8;

export interface GateTable {
  /** How many of a gate's own four slots are taken. */
  readonly terms: Int32Array;
  /** First gate of each orifice; one entry more than there are orifices. */
  readonly start: Int32Array;
  readonly index: Int32Array;
  readonly weight: Float64Array;
  readonly offset: Float64Array; // three per gate: own, first, second
  /** 0 for a gate without a pair, else the sign with which the greater one counts. */
  readonly pairSign: Int8Array;
  readonly inverseWidth: Float64Array;
}

/** Rows of the Jacobian that an orifice writes to: d(row) = flow * a + heat * b, per unit of flow and of flow times temperature. */
export interface RowTable {
  readonly start: Int32Array;
  readonly perFlow: Float64Array;
  readonly perHeat: Float64Array;
  readonly columnStart: Int32Array;
  readonly column: Int32Array;
  /** Position in the Jacobian's values of (row, column), rows outermost. */
  readonly positionStart: Int32Array;
  readonly position: Int32Array;
}

/** Columns that change a node's temperature: its pressure, its mass, and what else changes its volume (-1 for none). */
export interface NodeColumns {
  readonly other: Int32Array;
}

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

class Pattern {
  readonly rows: number[] = [];
  readonly columns: number[] = [];
  private readonly known = new Map<number, number>();

  constructor(private readonly width: number) {}

  add(row: number, column: number): number {
    const key = row * this.width + column;
    const known = this.known.get(key);
    if (known !== undefined) return known;
    this.known.set(key, this.rows.length);
    this.rows.push(row);
    this.columns.push(column);
    return this.rows.length - 1;
  }

  position(row: number, column: number): number {
    const found = this.known.get(row * this.width + column);
    if (found === undefined) throw new Error(`no entry at ${row}, ${column}`);
    return found;
  }
}

interface Rows {
  readonly list: readonly { row: number; perFlow: number; perHeat: number }[];
  readonly columns: readonly number[];
}

function gateTable(model: EngineModel, layout: Layout): GateTable {
  const all: Gate[] = [];
  const start = [0];
  for (const orifice of model.orifices) {
    all.push(...orifice.gates);
    start.push(all.length);
  }
  const index = new Int32Array(all.length * GATE_SLOTS).fill(layout.atmosphere);
  const weight = new Float64Array(all.length * GATE_SLOTS);
  const offset = new Float64Array(all.length * 3);
  const pairSign = new Int8Array(all.length);
  const place = (gate: number, slot: number, room: number, part: Mix, offsetSlot: number): void => {
    if (part.terms.length > room)
      throw new RangeError(`a seat may listen to ${room} signals here, not ${part.terms.length}`);
    part.terms.forEach((t, k) => {
      index[gate * GATE_SLOTS + slot + k] = indexOf(layout, t.of);
      weight[gate * GATE_SLOTS + slot + k] = t.weight;
    });
    offset[gate * 3 + offsetSlot] = part.offset;
  };
  all.forEach((gate, g) => {
    place(g, 0, 4, gate.mix, 0);
    if (gate.greatest) {
      pairSign[g] = gate.sign ?? 1;
      place(g, 4, 2, gate.greatest[0], 1);
      place(g, 6, 2, gate.greatest[1], 2);
    }
  });
  const terms = Int32Array.from(all, (g) => g.mix.terms.length);
  return {
    terms,
    start: Int32Array.from(start),
    index,
    weight,
    offset,
    pairSign,
    inverseWidth: Float64Array.from(all, (g) => 1 / g.width),
  };
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

function rowsAt(
  model: EngineModel,
  layout: Layout,
  node: number,
  sign: number,
): { row: number; perFlow: number; perHeat: number }[] {
  if (node === ATMOSPHERE) {
    return [
      { row: layout.audit.massOut, perFlow: sign, perHeat: 0 },
      { row: layout.audit.enthalpyOut, perFlow: 0, perHeat: sign * CP },
    ];
  }
  const mass = layout.massOf[node];
  if (mass >= 0) {
    return [
      { row: mass, perFlow: sign, perHeat: 0 },
      { row: node, perFlow: 0, perHeat: sign * CP },
    ];
  }
  const wall = model.nodes[node].wallTemperatureK;
  return [
    { row: node, perFlow: sign * GAS_CONSTANT * wall, perHeat: 0 },
    { row: layout.audit.heatOut, perFlow: -sign * CV * wall, perHeat: sign * CP },
  ];
}

function temperatureColumns(layout: Layout, other: Int32Array, node: number): number[] {
  if (node === ATMOSPHERE) return [];
  const mass = layout.massOf[node];
  if (mass < 0) return [node];
  return other[node] >= 0 ? [node, mass, other[node]] : [node, mass];
}

function orificeRows(model: EngineModel, layout: Layout, other: Int32Array, gates: GateTable): Rows[] {
  return model.orifices.map((orifice, e) => {
    const columns = new Set([
      ...temperatureColumns(layout, other, orifice.from),
      ...temperatureColumns(layout, other, orifice.to),
    ]);
    for (let s = gates.start[e] * GATE_SLOTS; s < gates.start[e + 1] * GATE_SLOTS; s++) {
      if (gates.weight[s] !== 0 && gates.index[s] < layout.coreCount) columns.add(gates.index[s]);
    }
    return {
      list: [...rowsAt(model, layout, orifice.from, -1), ...rowsAt(model, layout, orifice.to, 1)],
      columns: [...columns],
    };
  });
}

function compressorRows(model: EngineModel, layout: Layout): Rows[] {
  return model.compressors.map((c) => ({
    list: [
      ...rowsAt(model, layout, c.to, 1),
      { row: layout.audit.massIn, perFlow: 1, perHeat: 0 },
      { row: layout.audit.enthalpyIn, perFlow: 0, perHeat: CP },
    ],
    columns: [c.to, indexOf(layout, c.speed)].filter((k) => k < layout.coreCount),
  }));
}

function addToPattern(pattern: Pattern, rows: readonly Rows[]): void {
  for (const r of rows) for (const { row } of r.list) for (const column of r.columns) pattern.add(row, column);
}

function rowTable(rows: readonly Rows[], positionOf: (row: number, column: number) => number): RowTable {
  const start = [0];
  const perFlow: number[] = [];
  const perHeat: number[] = [];
  const columnStart = [0];
  const column: number[] = [];
  const positionStart: number[] = [];
  const position: number[] = [];
  for (const r of rows) {
    positionStart.push(position.length);
    for (const { row, perFlow: a, perHeat: b } of r.list) {
      perFlow.push(a);
      perHeat.push(b);
      for (const c of r.columns) position.push(positionOf(row, c));
    }
    column.push(...r.columns);
    start.push(perFlow.length);
    columnStart.push(column.length);
  }
  return {
    start: Int32Array.from(start),
    perFlow: Float64Array.from(perFlow),
    perHeat: Float64Array.from(perHeat),
    columnStart: Int32Array.from(columnStart),
    column: Int32Array.from(column),
    positionStart: Int32Array.from(positionStart),
    position: Int32Array.from(position),
  };
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

function rowLists(pattern: Pattern, stateCount: number): { rowStart: Int32Array; rowPosition: Int32Array } {
  const lists: number[][] = Array.from({ length: stateCount }, () => []);
  pattern.rows.forEach((row, e) => {
    lists[row].push(e);
  });
  for (const list of lists) list.sort((a, b) => pattern.columns[a] - pattern.columns[b]);
  const rowStart = new Int32Array(stateCount + 1);
  lists.forEach((list, row) => {
    rowStart[row + 1] = rowStart[row] + list.length;
  });
  return { rowStart, rowPosition: Int32Array.from(lists.flat()) };
}

/** Core rows first, so that the factor plan sees a prefix of the values. */
function sortedPattern(raw: Pattern, width: number, coreCount: number): Pattern {
  const entries = raw.rows.map((row, e) => ({ row, column: raw.columns[e] }));
  entries.sort((a, b) => a.row - b.row || a.column - b.column);
  const sorted = new Pattern(width);
  for (const e of entries)
    if (e.row < coreCount && e.column >= coreCount) throw new Error("a core state listens to a trailing one");
  for (const e of entries) sorted.add(e.row, e.column);
  return sorted;
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

/** Conductance as the flow formula wants it: kg/(s Pa). */
export function massConductance(sonicConductance: number): number {
  return sonicConductance * REFERENCE_DENSITY;
}

/** Adds the (row, column) contributions of flow number e to the Jacobian, given its slopes by each of its columns. */
export function scatter(
  rows: RowTable,
  e: number,
  columns: number,
  flowBy: Float64Array,
  heatBy: Float64Array,
  jac: Float64Array,
): void {
  const { perFlow, perHeat, position } = rows;
  let at = rows.positionStart[e];
  for (let r = rows.start[e]; r < rows.start[e + 1]; r++) {
    const a = perFlow[r];
    const b = perHeat[r];
    for (let c = 0; c < columns; c++) {
      jac[position[at]] += a * flowBy[c] + b * heatBy[c];
      at += 1;
    }
  }
}

/** {@link scatter} as code: slopes of flow and heat by column c stand in dc and ec, the Jacobian in j. */
export function scatterCode(rows: RowTable, e: number, columns: number): string {
  let at = rows.positionStart[e];
  let text = "";
  for (let r = rows.start[e]; r < rows.start[e + 1]; r++) {
    const a = rows.perFlow[r];
    const b = rows.perHeat[r];
    for (let c = 0; c < columns; c++) {
      const byFlow = a === 0 ? "" : `${literal(a)}*d${c}`;
      const byHeat = b === 0 ? "" : `${literal(b)}*e${c}`;
      text += `j[${rows.position[at]}]+=${[byFlow, byHeat].filter((t) => t !== "").join("+")};`;
      at += 1;
    }
  }
  return text;
}
