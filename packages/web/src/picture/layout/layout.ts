import type { Schematic } from "../schematic.ts";
import { composeWide } from "./compose.ts";
import { Grid } from "./grid.ts";
import { Labels } from "./labels.ts";
import { type LineNet, netsOf } from "./nets.ts";
import { pipesOf } from "./pipes.ts";
import { rolesOf } from "./roles.ts";
import { layPipes } from "./route.ts";
import { Sheet } from "./sheet.ts";
import type { Layout, Pipe, Tee } from "./types.ts";
import { placeTexts } from "./texts.ts";

/** Computes the whole drawing of a vehicle for a sheet of the given size. */
export function layoutOf(schematic: Schematic, widthPx: number, heightPx: number): Layout {
  const roles = rolesOf(schematic);
  const sheet = new Sheet(widthPx, heightPx, portsOf(schematic));
  const plan = composeWide(sheet, roles);
  const grid = new Grid(widthPx, heightPx);
  const hung = new Set(schematic.lines.filter((l) => roles.attached.has(l.from.part) || roles.attached.has(l.to.part)).map((l) => l.id));
  const nets = netsOf(schematic, sheet, grid, hung);
  prepare(grid, sheet, nets);
  const problems: string[] = [];
  const pipes: Pipe[] = [];
  const tees: Tee[] = [];
  layPipes(grid, nets).forEach((tree, i) => {
    const run = pipesOf(nets[i]!, tree, grid);
    pipes.push(...run.pipes);
    tees.push(...run.tees);
    for (const key of tree.missing) problems.push(`no way for a pipe to ${key}`);
  });
  pipes.push(...stubs(schematic, sheet, hung));
  const labels = new Labels({ x: 0, y: 0, w: widthPx, h: heightPx }, sheet.placed.map((p) => p.box), pipes);
  problems.push(...placeTexts(labels, sheet, roles, pipes, plan));
  return { widthPx, heightPx, placed: sheet.placed, pipes, tees, texts: labels.texts, frames: [], problems };
}

function portsOf(schematic: Schematic): Map<string, string[]> {
  const ports = new Map<string, Set<string>>();
  for (const line of schematic.lines) {
    for (const end of [line.from, line.to]) ports.set(end.part, (ports.get(end.part) ?? new Set()).add(end.port));
  }
  return new Map([...ports].map(([id, set]) => [id, [...set]]));
}

/** Short straight pipes to what hangs on a tank. */
function stubs(schematic: Schematic, sheet: Sheet, hung: ReadonlySet<string>): Pipe[] {
  const pipes: Pipe[] = [];
  for (const line of schematic.lines.filter((l) => hung.has(l.id))) {
    const a = sheet.of(line.from.part)!;
    const b = sheet.of(line.to.part)!;
    const [tank, part] = a.shape === "reservoir" ? [a.box, b.box] : [b.box, a.box];
    const x = part.x + part.w / 2;
    const below = part.y > tank.y;
    const points = [
      { x, y: below ? tank.y + tank.h : tank.y },
      { x, y: below ? part.y : part.y + part.h },
    ];
    pipes.push({ id: `hung${pipes.length}.0`, circuit: line.circuit, role: "pipe", points, gaps: [], flows: [] });
  }
  return pipes;
}

const BESIDE_SYMBOL = 5;
const EDGE = 10;

function prepare(grid: Grid, sheet: Sheet, nets: readonly LineNet[]): void {
  for (const placed of sheet.placed) {
    grid.discourage(placed.box, 6, BESIDE_SYMBOL);
    grid.block(placed.box);
  }
  grid.discourage({ x: 0, y: 0, w: sheet.widthPx, h: 0 }, 6, EDGE);
  grid.discourage({ x: 0, y: sheet.heightPx, w: sheet.widthPx, h: 0 }, 6, EDGE);
  grid.discourage({ x: 0, y: 0, w: 0, h: sheet.heightPx }, 6, EDGE);
  grid.discourage({ x: sheet.widthPx, y: 0, w: 0, h: sheet.heightPx }, 6, EDGE);
  for (const net of nets) for (const terminal of net.terminals) for (const opening of terminal.openings.slice(0, 2)) grid.reserved[opening.cell] = net.index;
}
