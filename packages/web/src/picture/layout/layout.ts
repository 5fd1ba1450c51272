import { completed } from "../complete.ts";
import type { Schematic } from "../schematic.ts";
import { composeWide } from "./compose.ts";
import { composeNarrow, narrowPlan } from "./composePhone.ts";
import { Grid } from "./grid.ts";
import { Labels } from "./labels.ts";
import { type LineNet, netsOf } from "./nets.ts";
import { pipesOf } from "./pipes.ts";
import { leastWidth } from "./plan.ts";
import { type Roles, rolesOf } from "./roles.ts";
import { layPipes } from "./route.ts";
import { Sheet } from "./sheet.ts";
import { captionsAt, placeTexts, reserveNames } from "./texts.ts";
import type { Layout, Pipe, Tee } from "./types.ts";

/** Below this width the parts stand below one another. */
const NARROW = 620;
/** Least height of a wide sheet at full size: two rows of wheels and a valve between them. */
const LEAST_HEIGHT = 390;
const LEAST_HEIGHT_COMBINATION = 450;
/** Sizes that are tried: a vehicle with many parts is drawn smaller. */
const SCALES = [1, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6, 0.55, 0.5];
const TRIES = 3;

/**
 * Computes the whole drawing of a vehicle for a sheet of the given size. The drawing has its own size: a wide one has the
 * sheet's proportions and is shown smaller if its parts need it, a narrow one is as high as it needs to be.
 */
export function layoutOf(schematic: Schematic, widthPx: number, heightPx: number): Layout {
  const roles = rolesOf(completed(schematic));
  if (widthPx < NARROW) {
    const plan = narrowPlan(roles);
    return draw(roles, 390, plan.heightPx, 14, (sheet) => composeNarrow(sheet, roles), plan.wheelsY);
  }
  const least = { w: leastWidth(roles), h: roles.towing ? LEAST_HEIGHT_COMBINATION : LEAST_HEIGHT };
  const fitting = SCALES.filter((s) => widthPx / s >= least.w && heightPx / s >= least.h);
  let best: Layout | null = null;
  for (const scale of fitting.slice(0, TRIES)) {
    const namePx = scale > 0.97 ? 15.5 : Math.min(17, 14 / scale);
    const layout = draw(roles, widthPx / scale, heightPx / scale, namePx, (sheet) => composeWide(sheet, roles));
    if (!best || badness(layout) < badness(best)) best = layout;
    if (best.problems.length === 0) break;
  }
  return best ?? draw(roles, least.w, least.h, 15.5, (sheet) => composeWide(sheet, roles));
}

/** A pipe that leads nowhere is worse than any number of missing names. */
function badness(layout: Layout): number {
  return layout.problems.reduce((sum, problem) => sum + (problem.startsWith("no way") ? 100 : 1), 0);
}

function draw(
  roles: Roles,
  widthPx: number,
  heightPx: number,
  namePx: number,
  compose: (sheet: Sheet) => void,
  wheelsY = 0,
): Layout {
  const { schematic } = roles;
  const sheet = new Sheet(Math.floor(widthPx), Math.floor(heightPx), portsOf(schematic));
  compose(sheet);
  const grid = new Grid(sheet.widthPx, sheet.heightPx);
  const hung = new Set(
    schematic.lines.filter((l) => roles.attached.has(l.from.part) || roles.attached.has(l.to.part)).map((l) => l.id),
  );
  const nets = netsOf(schematic, sheet, grid, hung);
  prepare(grid, sheet, nets);
  const page = { x: 0, y: 0, w: sheet.widthPx, h: sheet.heightPx };
  const divider = wheelsY > 0 ? 0 : dividerX(sheet, roles);
  const captions = captionsAt(divider, namePx);
  const wished = reserveNames(page, sheet, roles, namePx, captions);
  for (const name of wished) grid.discourage(name, 4, ON_A_NAME);
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
  const labels = new Labels(
    page,
    sheet.placed.map((p) => p.box),
    pipes,
  );
  problems.push(...placeTexts(labels, sheet, roles, nets, pipes, namePx, wished));
  return {
    widthPx: sheet.widthPx,
    heightPx: sheet.heightPx,
    placed: sheet.placed,
    pipes,
    tees,
    texts: labels.texts,
    wheelsY,
    dividerX: divider,
    problems,
  };
}

/** The plane of the couplings, where the trailer is parted from its tractor. */
function dividerX(sheet: Sheet, roles: Roles): number {
  if (roles.trailerAxles.length === 0 || roles.serviceTanks.length === 0) return 0;
  const coupling = sheet.placed.find((p) => p.shape === "coupling");
  return coupling ? coupling.box.x + coupling.box.w / 2 : 0;
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
const OUTSIDE = 4;
const ON_A_NAME = 10;
/** Only the openings that a pipe likes best are kept free for it. */
const RESERVED_UP_TO = 3;

function prepare(grid: Grid, sheet: Sheet, nets: readonly LineNet[]): void {
  for (const placed of sheet.placed) {
    grid.discourage(placed.box, 6, BESIDE_SYMBOL);
    grid.block(placed.box);
  }
  const { widthPx: w, heightPx: h } = sheet;
  for (const edge of [
    { x: 0, y: 0, w, h: 0 },
    { x: 0, y: h, w, h: 0 },
    { x: 0, y: 0, w: 0, h },
    { x: w, y: 0, w: 0, h },
  ])
    grid.discourage(edge, 6, EDGE);
  if (sheet.margins) {
    grid.discourage({ x: 0, y: 0, w, h: sheet.margins.top }, 0, OUTSIDE);
    grid.discourage({ x: 0, y: sheet.margins.bottom, w, h: h - sheet.margins.bottom }, 0, OUTSIDE);
  }
  for (const net of nets) {
    for (const terminal of net.terminals) {
      for (const opening of terminal.openings)
        if (opening.price < RESERVED_UP_TO) grid.reserved[opening.cell] = net.index;
    }
  }
}
