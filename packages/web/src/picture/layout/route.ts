import type { Grid } from "./grid.ts";
import { type Goal, type Opening, Search, WAYS } from "./search.ts";

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

/** The pipes of a net as paths from cell to cell, and the terminals that could not be reached. */
export interface Tree {
  price: number;
  paths: number[][];
  missing: string[];
}

/** Joining a pipe at its corner looks calmer than in the middle of a run. */
const JOIN = 1;
const JOIN_MID_RUN = 4;
const ANY_WAY = -1;

/** Lays the pipes of all nets: once in order, then each again, with more care, among all the others. */
export function layPipes(grid: Grid, nets: readonly Net[]): Tree[] {
  const search = new Search(grid);
  const trees = nets.map((net) => {
    const tree = again(grid, search, net);
    mark(grid, net, tree);
    return tree;
  });
  nets.forEach((net, i) => {
    grid.clear(net.index);
    // The old tree was priced when others lay elsewhere, so the fresh one is always the honest choice.
    trees[i] = again(grid, search, net);
    mark(grid, net, trees[i]!);
  });
  for (let i = 0; i < MOST_FORCED; i += 1) {
    const stuck = trees.findIndex((tree) => tree.missing.length > 0);
    if (stuck < 0) break;
    force(grid, search, nets, trees, stuck);
  }
  return trees;
}

const MOST_FORCED = 6;

/** Lays a net that found no way through others; those are then laid anew round it. */
function force(grid: Grid, search: Search, nets: readonly Net[], trees: Tree[], index: number): void {
  const net = nets[index]!;
  grid.clear(net.index);
  search.forcing = true;
  const tree = layNet(grid, search, net);
  search.forcing = false;
  const pushed = new Set(tree.paths.flatMap((path) => othersOn(grid, net.index, path)));
  for (const other of pushed) grid.clear(other);
  trees[index] = tree;
  mark(grid, net, tree);
  for (const other of pushed) {
    const at = nets.findIndex((n) => n.index === other);
    trees[at] = layNet(grid, search, nets[at]!);
    mark(grid, nets[at]!, trees[at]!);
  }
}

/** Nets that lie where a path runs; crossing one at a right angle does not count. */
function othersOn(grid: Grid, net: number, path: readonly number[]): number[] {
  const found: number[] = [];
  path.forEach((cell, i) => {
    const steps = [path[i - 1], path[i + 1]].filter((c) => c !== undefined).map((c) => Math.abs(c - cell));
    const end = steps.length < 2;
    if (end || steps.includes(1)) found.push(grid.across[cell]!);
    if (end || steps.some((s) => s !== 1)) found.push(grid.down[cell]!);
  });
  return found.filter((n) => n >= 0 && n !== net);
}

const NOTHING: Tree = { price: 0, paths: [], missing: [] };

/** Only the widely branched nets of tanks gain from trying both orders. */
function again(grid: Grid, search: Search, net: Net): Tree {
  return net.terminals.some((t) => t.several) ? layNet(grid, search, net) : layFirst(grid, search, net);
}

function layFirst(grid: Grid, search: Search, net: Net): Tree {
  const [first, ...rest] = net.terminals;
  return first ? layInOrder(search, net, first, nearestFirst(grid, first, rest)) : NOTHING;
}

/** Of two orders, trunk first or twigs first, the one that makes the cheaper tree. */
function layNet(grid: Grid, search: Search, net: Net): Tree {
  const [first, ...rest] = net.terminals;
  if (!first) return NOTHING;
  const near = nearestFirst(grid, first, rest);
  const twigsFirst = layInOrder(search, net, first, near);
  if (near.length < 2) return twigsFirst;
  const trunkFirst = layInOrder(search, net, first, [...near].reverse());
  const better = trunkFirst.missing.length - twigsFirst.missing.length || trunkFirst.price - twigsFirst.price;
  return better < 0 ? trunkFirst : twigsFirst;
}

function layInOrder(search: Search, net: Net, hub: Terminal, waiting: readonly Terminal[]): Tree {
  const tree: Tree = { price: 0, paths: [], missing: [] };
  const atHub = hub.openings.map((o): Goal => ({ cell: o.cell, way: WAYS.indexOf(o.side) ^ 1, price: o.price }));
  const goals: Goal[] = [...atHub];
  for (const terminal of waiting) {
    const found = search.path(net.index, terminal.openings, goals);
    if (!found) {
      tree.missing.push(terminal.key);
      continue;
    }
    tree.price += found.price;
    tree.paths.push(found.cells);
    // From now on other pipes join this one; a hub with several openings may still be gone to afresh.
    if (tree.paths.length === 1 && !hub.several) goals.length = 0;
    found.cells.forEach((cell, i) => {
      goals.push({ cell, way: ANY_WAY, price: isCorner(found.cells, i) ? JOIN : JOIN_MID_RUN });
    });
  }
  return tree;
}

function isCorner(path: readonly number[], i: number): boolean {
  const before = path[i - 1];
  const after = path[i + 1];
  return before !== undefined && after !== undefined && path[i]! - before !== after - path[i]!;
}

/** Terminals in the order of their distance from the first. */
function nearestFirst(grid: Grid, hub: Terminal, rest: readonly Terminal[]): Terminal[] {
  const place = (t: Terminal) => t.openings[0]?.cell ?? 0;
  const far = (t: Terminal) => {
    const a = place(hub);
    const b = place(t);
    return (
      Math.abs((a % grid.columns) - (b % grid.columns)) +
      Math.abs(Math.floor(a / grid.columns) - Math.floor(b / grid.columns))
    );
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
