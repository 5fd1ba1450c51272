import { text } from "../../text/text.ts";
import { nameOf } from "../names.ts";
import { NAMED_FROM } from "../symbols/tankWidth.ts";
import type { Box, Point, Side } from "./geometry.ts";
import { Labels, type Wish } from "./labels.ts";
import { wordsWidth } from "./metrics.ts";
import type { LineNet } from "./nets.ts";
import type { Roles } from "./roles.ts";
import type { Sheet } from "./sheet.ts";
import type { Pipe, Placed, Spot, TextBox } from "./types.ts";

const NAMED_INSIDE = new Set(["springBrake", "serviceBrake", "drain"]);
const STATE_OF: Record<string, string[]> = { compressor: ["unloaded"], electricCompressor: ["unloaded"] };
/** Valves whose delivery is worth a figure of its own. */
const SHOWN = new Set([
  "footValve",
  "parkingControl",
  "springBrakeModulatingValve",
  "trailerSupplyControl",
  "handValve",
  "tractorProtection",
  "coupling",
  "doubleCheck",
]);
/** Shapes that a reader knows again once one of them has been named. */
const ONCE = new Set(["doubleCheck", "checkValve", "modulator", "protectionValve", "lowAirSwitch"]);
const FIGURE_PX = 19;
const BESIDE = 120;
const PORT_PX = 12;

/**
 * Where names would stand if there were no pipes: the pipes are then laid round them where they can be. In front of each
 * port some room is kept for its pipe.
 */
export function reserveNames(
  page: Box,
  sheet: Sheet,
  roles: Roles,
  sizePx: number,
  captions: readonly TextBox[],
): TextBox[] {
  const labels = new Labels(
    page,
    sheet.placed.map((p) => p.box),
    [],
  );
  for (const placed of sheet.placed) {
    for (const spots of Object.values(placed.spots))
      for (const spot of spots.slice(0, spots.length > 4 ? 1 : 4)) labels.keepFree(exitOf(spot, placed.box));
  }
  for (const caption of captions) labels.keep(caption);
  for (const placed of sheet.placed) {
    const wish = nameWish(placed, roles, sizePx);
    if (wish) labels.place(wish);
  }
  return labels.texts;
}

/** The names of both units, left and right of the place where they are coupled. */
export function captionsAt(x: number, sizePx: number): TextBox[] {
  if (x === 0) return [];
  const { power, trailer } = text.picture.units;
  const h = Math.ceil(sizePx * 1.22);
  const caption = (name: string, left: number, anchor: "start" | "end"): TextBox => {
    const w = Math.ceil(wordsWidth(name, sizePx));
    return {
      id: `unit.${name}`,
      owner: `unit.${name}`,
      kind: "name",
      lines: [name],
      sizePx,
      anchor,
      x: left < 0 ? x + left - w : x + left,
      y: 3,
      w,
      h,
    };
  };
  return [caption(trailer, -10, "end"), caption(power, 10, "start")];
}

const EXIT = 30;

function exitOf(spot: Spot, box: Box): Box {
  const half = 7;
  if (spot.side === "l") return { x: box.x - EXIT, y: spot.y - half, w: EXIT, h: 2 * half };
  if (spot.side === "r") return { x: box.x + box.w, y: spot.y - half, w: EXIT, h: 2 * half };
  if (spot.side === "t") return { x: spot.x - half, y: box.y - EXIT, w: 2 * half, h: EXIT };
  return { x: spot.x - half, y: box.y + box.h, w: 2 * half, h: EXIT };
}

/** Names, node figures and port numbers of the sheet. Returns the names that found no room; the rest is left out. */
export function placeTexts(
  labels: Labels,
  sheet: Sheet,
  roles: Roles,
  nets: readonly LineNet[],
  pipes: readonly Pipe[],
  sizePx: number,
  wished: readonly TextBox[],
): string[] {
  const problems: string[] = [];
  const kept = new Set(wished.filter((name) => labels.keep(name)).map((name) => name.owner));
  for (const placed of sheet.placed) {
    const wish = kept.has(placed.id) ? null : nameWish(placed, roles, sizePx);
    if (
      !wish ||
      labels.place(wish) ||
      labels.place({ ...wish, extra: [] }) ||
      namedBeside(sheet, labels, placed, roles)
    )
      continue;
    problems.push(`no room for the name of ${placed.id}`);
  }
  for (const net of nets) placeFigure(labels, net, roles, pipes);
  for (const placed of sheet.placed) placePorts(labels, placed);
  return problems;
}

/** Whether a symbol of the same shape carries the name, close by or, for plain ones, anywhere: one name is then enough. */
function namedBeside(sheet: Sheet, labels: Labels, placed: Placed, roles: Roles): boolean {
  const { box } = placed;
  return sheet.placed.some(
    (p) =>
      p !== placed &&
      sameName(p, placed, roles) &&
      (ONCE.has(p.shape) || Math.abs(p.box.x - box.x) + Math.abs(p.box.y - box.y) < BESIDE) &&
      labels.texts.some((t) => t.owner === p.id && t.kind === "name"),
  );
}

function sameName(a: Placed, b: Placed, roles: Roles): boolean {
  const name = (p: Placed) => nameOf(roles.parts.get(p.id)!, roles.schematic);
  return a.shape === b.shape && name(a) === name(b);
}

function nameWish(placed: Placed, roles: Roles, sizePx: number): Wish | null {
  const part = roles.parts.get(placed.id)!;
  if (NAMED_INSIDE.has(placed.shape)) return null;
  if (placed.shape === "reservoir" && placed.box.w > NAMED_FROM) return null;
  const sides: Wish["sides"] = placed.shape === "lowAirSwitch" ? ["r", "b", "t", "l"] : ["b", "t", "r", "l"];
  return {
    id: `name.${part.id}`,
    owner: part.id,
    kind: "name",
    text: nameOf(part, roles.schematic),
    sizePx,
    near: placed.box,
    sides,
    extra: STATE_OF[placed.shape] ?? [],
    reachPx: 72,
  };
}

/** The pressure that a valve delivers, beside the longest straight run of its pipe. Chambers show their own. */
function placeFigure(labels: Labels, net: LineNet, roles: Roles, pipes: readonly Pipe[]): void {
  const line = net.lines.find((l) => SHOWN.has(roles.parts.get(l.from.part)?.kind ?? "") && l.pressure);
  const toChamber = net.lines.some((l) => roles.parts.get(l.to.part)?.kind.endsWith("Chamber"));
  if (!line || toChamber) return;
  const runs = pipes.filter((p) => p.id.startsWith(`${net.index}.`)).flatMap((p) => straights(p.points));
  runs.sort((a, b) => b.length - a.length);
  for (const run of runs.slice(0, 4)) {
    const across = run.a.y === run.b.y;
    const near = { x: (run.a.x + run.b.x) / 2, y: (run.a.y + run.b.y) / 2, w: 0, h: 0 };
    const grown = across ? { ...near, y: near.y - 6, h: 12 } : { ...near, x: near.x - 6, w: 12 };
    const wish: Wish = {
      id: `figure.${net.index}`,
      owner: line.id,
      kind: "figure",
      text: "000",
      sizePx: FIGURE_PX,
      near: grown,
      sides: across ? ["t", "b"] : ["r", "l"],
      reachPx: 8,
      channel: line.pressure!,
    };
    if (labels.place(wish)) return;
  }
}

function straights(points: readonly Point[]): { a: Point; b: Point; length: number }[] {
  return points.slice(1).map((b, i) => {
    const a = points[i]!;
    return { a, b, length: Math.abs(a.x - b.x) + Math.abs(a.y - b.y) };
  });
}

/** Numbers after ISO 6786 beside the ports of valves. */
function placePorts(labels: Labels, placed: Placed): void {
  if (NAMED_INSIDE.has(placed.shape) || placed.shape === "reservoir" || placed.shape === "auxiliaryLoad") return;
  for (const [key, spots] of Object.entries(placed.spots)) {
    const port = key.slice(key.lastIndexOf(":") + 1);
    const spot = spots[0];
    if (!spot || spots.length > 1) continue;
    labels.place({
      id: `port.${key}`,
      owner: placed.id,
      kind: "port",
      text: port,
      sizePx: PORT_PX,
      near: outside(spot, placed),
      sides: spot.side === "l" || spot.side === "r" ? ["t", "b"] : ["r", "l"],
      reachPx: 8,
    });
  }
}

/** A small box on the pipe just outside the port. */
function outside(spot: Spot, placed: Placed): { x: number; y: number; w: number; h: number } {
  const { box } = placed;
  const at: Record<Side, Point> = {
    l: { x: box.x - 7, y: spot.y },
    r: { x: box.x + box.w + 7, y: spot.y },
    t: { x: spot.x, y: box.y - 8 },
    b: { x: spot.x, y: box.y + box.h + 8 },
  };
  return { x: at[spot.side].x - 4, y: at[spot.side].y - 4, w: 8, h: 8 };
}
