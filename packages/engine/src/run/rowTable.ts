import { ATMOSPHERE, type EngineModel } from "../model/model.ts";
import { CP, CV, GAS_CONSTANT } from "../numerics/gas.ts";
import { literal } from "../numerics/straightLine.ts";
import { GATE_SLOTS, type GateTable } from "./gateTable.ts";
import { indexOf, type Layout } from "./layout.ts";

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

/** What one flow writes to and listens to. */
export interface Rows {
  readonly list: readonly { row: number; perFlow: number; perHeat: number }[];
  readonly columns: readonly number[];
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

/** Values that a node's temperature depends on. */
export function temperatureColumns(layout: Layout, other: Int32Array, node: number): number[] {
  if (node === ATMOSPHERE) return [];
  const mass = layout.massOf[node];
  if (mass < 0) return [node];
  return other[node] >= 0 ? [node, mass, other[node]] : [node, mass];
}

export function orificeRows(model: EngineModel, layout: Layout, other: Int32Array, gates: GateTable): Rows[] {
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

export function compressorRows(model: EngineModel, layout: Layout): Rows[] {
  return model.compressors.map((c) => ({
    list: [
      ...rowsAt(model, layout, c.to, 1),
      { row: layout.audit.massIn, perFlow: 1, perHeat: 0 },
      { row: layout.audit.enthalpyIn, perFlow: 0, perHeat: CP },
    ],
    columns: [c.to, indexOf(layout, c.speed)].filter((k) => k < layout.coreCount),
  }));
}

export function rowTable(rows: readonly Rows[], positionOf: (row: number, column: number) => number): RowTable {
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
