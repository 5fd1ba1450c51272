import type { SchematicLine } from "../schematic.ts";
import { type Point, TRACK } from "./geometry.ts";
import type { Grid } from "./grid.ts";
import type { LineNet } from "./nets.ts";
import type { Tree } from "./route.ts";
import type { Pipe, Tee } from "./types.ts";

interface Graph {
  edges: Map<number, Set<number>>;
  /** Terminal that stands on a cell. */
  terminals: Map<number, string>;
}

/** Turns the laid paths of a net into runs of pipe between ports and tees, each with the flows it carries. */
export function pipesOf(net: LineNet, tree: Tree, grid: Grid): { pipes: Pipe[]; tees: Tee[] } {
  const graph = graphOf(net, tree);
  const covers = coverage(net, graph);
  const pipes: Pipe[] = tree.paths.filter((path) => path.length === 1).flatMap((path) => shortPipe(net, path[0]!));
  const tees: Tee[] = [];
  const isEnd = (cell: number) => graph.terminals.has(cell) || graph.edges.get(cell)!.size !== 2;
  for (const [cell, next] of graph.edges) {
    if (!isEnd(cell)) continue;
    if (next.size > 2) tees.push({ ...centre(cell, grid), circuit: net.lines[0]!.circuit });
    for (const start of next) {
      const run = follow(graph, cell, start, isEnd);
      if (run[0]! < run.at(-1)!) pipes.push(pipeOf(net, graph, run, covers, grid, pipes.length));
    }
  }
  return { pipes, tees };
}

/** Two ports that open on the same cell are joined by one straight piece. */
function shortPipe(net: LineNet, cell: number): Pipe[] {
  const ends = net.terminals.filter((t) => t.openings.some((o) => o.cell === cell));
  const [a, b] = ends;
  if (!a || !b) return [];
  const at = (key: string) => net.spots.get(key)!.find((s) => s.opening.cell === cell)!.spot;
  const lines = net.lines.filter(
    (l) =>
      [a.key, b.key].includes(net.keys.get(`${l.id}.from`)!) && [a.key, b.key].includes(net.keys.get(`${l.id}.to`)!),
  );
  const main = leading(lines) ?? net.lines[0]!;
  const flows = lines.map((l) => ({ line: l.id, sign: (net.keys.get(`${l.id}.from`) === a.key ? 1 : -1) as 1 | -1 }));
  const points = [at(a.key), at(b.key)].map(({ x, y }) => ({ x, y }));
  return [{ id: `${net.index}.short${cell}`, circuit: main.circuit, role: main.role, points, gaps: [], flows }];
}

function graphOf(net: LineNet, tree: Tree): Graph {
  const edges = new Map<number, Set<number>>();
  const terminals = new Map<number, string>();
  const link = (a: number, b: number) => edges.set(a, (edges.get(a) ?? new Set()).add(b));
  for (const path of tree.paths) {
    for (let i = 1; i < path.length; i += 1) {
      link(path[i - 1]!, path[i]!);
      link(path[i]!, path[i - 1]!);
    }
    for (const end of path.length > 1 ? [path[0]!, path.at(-1)!] : []) {
      const terminal = net.terminals.find((t) => t.openings.some((o) => o.cell === end));
      if (terminal) terminals.set(end, terminal.key);
    }
  }
  return { edges, terminals };
}

function follow(graph: Graph, from: number, next: number, isEnd: (cell: number) => boolean): number[] {
  const run = [from, next];
  while (!isEnd(run.at(-1)!)) {
    const [a, b] = [...graph.edges.get(run.at(-1)!)!];
    run.push(a === run.at(-2) ? b! : a!);
  }
  return run;
}

/** For each step between two cells (lower cell first): which lines run over it, and with which sign. */
function coverage(net: LineNet, graph: Graph): Map<string, { line: string; sign: 1 | -1 }[]> {
  const covers = new Map<string, { line: string; sign: 1 | -1 }[]>();
  const cellsOf = new Map<string, number[]>();
  for (const [cell, key] of graph.terminals) cellsOf.set(key, [...(cellsOf.get(key) ?? []), cell]);
  for (const line of net.lines) {
    const path = shortest(graph, cellsOf, net.keys.get(`${line.id}.from`)!, net.keys.get(`${line.id}.to`)!);
    for (let i = 1; i < path.length; i += 1) {
      const a = path[i - 1]!;
      const b = path[i]!;
      if (!graph.edges.get(a)!.has(b)) continue;
      const key = a < b ? `${a}-${b}` : `${b}-${a}`;
      covers.set(key, [...(covers.get(key) ?? []), { line: line.id, sign: a < b ? 1 : -1 }]);
    }
  }
  return covers;
}

/** Breadth first; the openings of one tank count as joined inside it. */
function shortest(graph: Graph, cellsOf: Map<string, number[]>, from: string, to: string): number[] {
  const cameFrom = new Map<number, number>();
  const queue = [...(cellsOf.get(from) ?? [])];
  for (const cell of queue) cameFrom.set(cell, -1);
  const goals = new Set(cellsOf.get(to) ?? []);
  while (queue.length > 0) {
    const cell = queue.shift()!;
    if (goals.has(cell)) return backFrom(cell, cameFrom);
    const key = graph.terminals.get(cell);
    for (const next of [...graph.edges.get(cell)!, ...(key ? cellsOf.get(key)! : [])]) {
      if (cameFrom.has(next)) continue;
      cameFrom.set(next, cell);
      queue.push(next);
    }
  }
  return [];
}

function backFrom(cell: number, cameFrom: Map<number, number>): number[] {
  const path: number[] = [];
  for (let c = cell; c !== -1; c = cameFrom.get(c)!) path.push(c);
  return path.reverse();
}

function pipeOf(
  net: LineNet,
  graph: Graph,
  run: number[],
  covers: Map<string, { line: string; sign: 1 | -1 }[]>,
  grid: Grid,
  index: number,
): Pipe {
  const first = run[0]!;
  const second = run[1]!;
  const key = first < second ? `${first}-${second}` : `${second}-${first}`;
  const turn = first < second ? 1 : -1;
  const flows = (covers.get(key) ?? []).map((f) => ({ line: f.line, sign: (f.sign * turn) as 1 | -1 }));
  const lines = flows.map((f) => net.lines.find((l) => l.id === f.line)!);
  const main = leading(lines) ?? net.lines[0]!;
  const points = straightened([
    ...stub(net, graph, first),
    ...run.map((c) => centre(c, grid)),
    ...stub(net, graph, run.at(-1)!).reverse(),
  ]);
  return { id: `${net.index}.${index}`, circuit: main.circuit, role: main.role, points, gaps: [], flows };
}

/** The line whose pattern a shared run takes: a pipe before a signal, a brake circuit before the auxiliary one. */
function leading(lines: readonly SchematicLine[]): SchematicLine | undefined {
  const pipes = lines.filter((l) => l.role === "pipe");
  return pipes.find((l) => l.circuit !== "auxiliary") ?? pipes[0] ?? lines[0];
}

/** The last bit from the track to the drawn port. */
function stub(net: LineNet, graph: Graph, cell: number): Point[] {
  const key = graph.terminals.get(cell);
  const spot = key && net.spots.get(key)?.find((s) => s.opening.cell === cell)?.spot;
  return spot ? [{ x: spot.x, y: spot.y }] : [];
}

function centre(cell: number, grid: Grid): Point {
  return { x: (cell % grid.columns) * TRACK, y: Math.floor(cell / grid.columns) * TRACK };
}

/** Leaves out points that lie on a straight line between their neighbours. */
function straightened(points: Point[]): Point[] {
  return points.filter((p, i) => {
    const a = points[i - 1];
    const b = points[i + 1];
    if (!a || !b) return true;
    return !((a.x === p.x && p.x === b.x) || (a.y === p.y && p.y === b.y));
  });
}
