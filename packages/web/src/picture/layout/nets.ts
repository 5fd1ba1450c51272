import type { Schematic, SchematicLine } from "../schematic.ts";
import { TRACK } from "./geometry.ts";
import type { Grid } from "./grid.ts";
import type { Net, Terminal } from "./route.ts";
import type { Opening } from "./search.ts";
import type { Sheet } from "./sheet.ts";
import type { Placed, Spot } from "./types.ts";

/** A net with the lines of the schematic that it is made of. */
export interface LineNet extends Net {
  lines: SchematicLine[];
  spots: Map<string, { opening: Opening; spot: Spot }[]>;
  /** Terminal of each end of each line: `line.from`, `line.to`. */
  keys: Map<string, string>;
}

type KeyOf = (line: SchematicLine, side: "from" | "to") => string;

/**
 * Lines that meet at one port are one net. A tank has two sides: each line into it ends by itself, all lines out of it
 * are one net and may leave anywhere round its edge.
 */
export function netsOf(schematic: Schematic, sheet: Sheet, grid: Grid, skip: ReadonlySet<string>): LineNet[] {
  const tanks = new Set(schematic.parts.filter((p) => p.kind === "reservoir").map((p) => p.id));
  const quick = new Set(schematic.parts.filter((p) => p.kind === "quickRelease").map((p) => p.id));
  const keyOf: KeyOf = (line, side) => {
    const end = line[side];
    // All outlets of a quick release valve pass the same air.
    if (quick.has(end.part) && end.port.startsWith("2")) return `${end.part}:out`;
    if (!tanks.has(end.part)) return `${end.part}:${end.port}`;
    return side === "from" ? `${end.part}:out` : `${end.part}:in.${line.id}`;
  };
  const parent = new Map<string, string>();
  const root = (key: string): string => {
    const up = parent.get(key) ?? key;
    return up === key ? key : root(up);
  };
  const lines = schematic.lines.filter((line) => !skip.has(line.id));
  for (const line of lines) {
    const a = root(keyOf(line, "from"));
    const b = root(keyOf(line, "to"));
    parent.set(b, a);
    parent.set(a, a);
  }
  const groups = new Map<string, SchematicLine[]>();
  for (const line of lines) {
    const key = root(keyOf(line, "from"));
    groups.set(key, [...(groups.get(key) ?? []), line]);
  }
  const order = [...groups.values()].sort((a, b) => rank(a, tanks) - rank(b, tanks));
  return order.map((group, index) => netOf(group, index, sheet, grid, keyOf));
}

/** Main pipes from the tanks are laid first, then other pipes, signals last. */
function rank(lines: readonly SchematicLine[], tanks: ReadonlySet<string>): number {
  if (lines.every((l) => l.role === "signal")) return 2;
  return lines.some((l) => tanks.has(l.from.part)) ? 0 : 1;
}

function netOf(lines: SchematicLine[], index: number, sheet: Sheet, grid: Grid, keyOf: KeyOf): LineNet {
  const terminals = new Map<string, Terminal>();
  const spots: LineNet["spots"] = new Map();
  const keys = new Map<string, string>();
  for (const line of lines) {
    for (const side of ["from", "to"] as const) {
      const end = line[side];
      const key = keyOf(line, side);
      keys.set(`${line.id}.${side}`, key);
      if (terminals.has(key)) continue;
      const placed = sheet.of(end.part)!;
      const list = preferred(placed.spots[`${end.part}:${end.port}`] ?? [], placed.shape, side).map((spot) => ({
        spot,
        opening: openingOf(spot, placed, grid),
      }));
      spots.set(key, list);
      const several = key.endsWith(":out");
      terminals.set(key, { key, openings: list.map((s) => s.opening), several });
    }
  }
  const hubFirst = [...terminals.values()].sort((a, b) => Number(b.several) - Number(a.several));
  return { index, lines, terminals: hubFirst, spots, keys };
}

/** Air comes into a tank at its left end and leaves at its right end, if there is a way. */
function preferred(spots: readonly Spot[], shape: string, side: "from" | "to"): Spot[] {
  if (shape !== "reservoir") return [...spots];
  const gladly = side === "to" ? "l" : "r";
  return spots.map((s) => ({ ...s, price: s.side === gladly ? 0 : 14 + s.price })).sort((a, b) => a.price - b.price);
}

/** The first track outside the symbol, straight out from the port. */
function openingOf(spot: Spot, placed: Placed, grid: Grid): Opening {
  const { box } = placed;
  let { x, y } = spot;
  if (spot.side === "l") x = (Math.ceil(box.x / TRACK) - 1) * TRACK;
  if (spot.side === "r") x = (Math.floor((box.x + box.w) / TRACK) + 1) * TRACK;
  if (spot.side === "t") y = (Math.ceil(box.y / TRACK) - 1) * TRACK;
  if (spot.side === "b") y = (Math.floor((box.y + box.h) / TRACK) + 1) * TRACK;
  return { cell: grid.cellAt(x, y), side: spot.side, price: spot.price };
}
