import type { Grid } from "./grid.ts";
import { type Opening, Search, WAYS } from "./search.ts";

/** Where a net must go: one entry for each part it joins, each with the openings it may use. */
export interface Terminal {
  key: string;
  openings: Opening[];
  /** Whether pipes may leave it at several openings, as they may leave a tank. */
  several: boolean;
}

export interface Net {
  index: number;
  terminals: Terminal[];
}

/** The pipes of a net as single steps from cell to cell, and the opening each terminal got. */
export interface Tree {
  price: number;
  paths: number[][];
  used: Map<string, Opening>;
  missing: string[];
}

const ROUNDS = 2;
const JOIN = 1;
const JOIN_MID_RUN = 4;

/** Lays the pipes of all nets: once in order, then each again with all others in place, keeping what is cheaper. */
export function layPipes(grid: Grid, nets: readonly Net[]): Tree[] {
  const search = new Search(grid);
  const trees = nets.map((net) => {
    const tree = layNet(grid, search, net);
    mark(grid, net, tree);
    return tree;
  });
  for (let round = 0; round < ROUNDS; round += 1) {
    nets.forEach((net, i) => {
      grid.clear(net.index);
      const again = layNet(grid, search, net);
      // The old tree was priced when others lay elsewhere, so the fresh one is always the honest choice.
      trees[i] = again;
      mark(grid, net, again);
    });
  }
  return trees;
}

function layNet(grid: Grid, search: Search, net: Net): Tree {
  const tree: Tree = { price: 0, paths: [], used: new Map(), missing: [] };
  const [first, ...rest] = net.terminals;
  if (!first) return tree;
  const cells = new Map<number, number>();
  const waiting = nearestFirst(grid, first, rest);
  for (const terminal of waiting) {
    const found = cells.size === 0 ? joinTwo(search, net.index, terminal, first) : joinTree(search, net.index, terminal, cells, first);
    if (!found) {
      tree.missing.push(terminal.key);
      continue;
    }
    tree.price += found.price;
    tree.paths.push(found.cells);
    settle(tree, terminal, found.cells[0]!);
    if (!tree.used.has(first.key)) settle(tree, first, found.cells.at(-1)!);
    for (const [i, cell] of found.cells.entries()) cells.set(cell, isCorner(found.cells, i) ? JOIN : JOIN_MID_RUN);
  }
  return tree;
}

function isCorner(path: readonly number[], i: number): boolean {
  const before = path[i - 1];
  const after = path[i + 1];
  return before !== undefined && after !== undefined && path[i]! - before !== after - path[i]!;
}

function settle(tree: Tree, terminal: Terminal, cell: number): void {
  const opening = terminal.openings.find((o) => o.cell === cell);
  if (opening) tree.used.set(terminal.key, opening);
}

function joinTwo(search: Search, net: number, from: Terminal, to: Terminal) {
  const goals = to.openings.map((o) => o.cell);
  return search.path(net, from.openings, goals, (cell, way) => {
    const opening = to.openings.find((o) => o.cell === cell && (WAYS.indexOf(o.side) ^ 1) === way);
    return opening ? opening.price : -1;
  });
}

function joinTree(search: Search, net: number, from: Terminal, cells: ReadonlyMap<number, number>, hub: Terminal) {
  const goals = hub.several ? [...cells.keys(), ...hub.openings.map((o) => o.cell)] : [...cells.keys()];
  return search.path(net, from.openings, goals, (cell, way) => {
    const join = cells.get(cell);
    if (join !== undefined) return join;
    const opening = hub.several && hub.openings.find((o) => o.cell === cell && (WAYS.indexOf(o.side) ^ 1) === way);
    return opening ? opening.price + JOIN : -1;
  });
}

/** Terminals in the order of their distance from the first, so that trunks are laid before twigs. */
function nearestFirst(grid: Grid, hub: Terminal, rest: readonly Terminal[]): Terminal[] {
  const place = (t: Terminal) => t.openings[0]!.cell;
  const far = (t: Terminal) => {
    const a = place(hub);
    const b = place(t);
    return Math.abs((a % grid.columns) - (b % grid.columns)) + Math.abs(Math.floor(a / grid.columns) - Math.floor(b / grid.columns));
  };
  return [...rest].sort((a, b) => far(a) - far(b));
}

function mark(grid: Grid, net: Net, tree: Tree): void {
  for (const path of tree.paths) {
    for (let i = 1; i < path.length; i += 1) {
      const a = path[i - 1]!;
      const b = path[i]!;
      const layer = Math.abs(a - b) === 1 ? grid.across : grid.down;
      layer[a] = net.index;
      layer[b] = net.index;
    }
    for (const end of [path[0]!, path.at(-1)!]) {
      grid.across[end] = net.index;
      grid.down[end] = net.index;
    }
  }
}
