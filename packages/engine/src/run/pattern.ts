/** Where a sparse matrix has entries: each (row, column) once, numbered in the order in which they came. */
export class Pattern {
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

/** Entries of each row, as positions, by column. */
export function rowLists(pattern: Pattern, stateCount: number): { rowStart: Int32Array; rowPosition: Int32Array } {
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
export function sortedPattern(raw: Pattern, width: number, coreCount: number): Pattern {
  const entries = raw.rows.map((row, e) => ({ row, column: raw.columns[e] }));
  entries.sort((a, b) => a.row - b.row || a.column - b.column);
  const sorted = new Pattern(width);
  for (const e of entries)
    if (e.row < coreCount && e.column >= coreCount) throw new Error("a core state listens to a trailing one");
  for (const e of entries) sorted.add(e.row, e.column);
  return sorted;
}
