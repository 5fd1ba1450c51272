import { type Box, inside, overlaps, runBox } from "./geometry.ts";
import { figureWidth, inShortLines, inTwoLines, wordsWidth } from "./metrics.ts";
import type { Pipe, TextBox } from "./types.ts";

/** A text that wants a place near a box. */
export interface Wish {
  id: string;
  owner: string;
  kind: TextBox["kind"];
  text: string;
  sizePx: number;
  near: Box;
  /** Sides in the order of liking. */
  sides: readonly ("t" | "b" | "l" | "r")[];
  /** Further lines below the name, for words that change; given by their longest form. */
  extra?: string[];
  /** Channel of a figure. */
  channel?: string;
  /** How far off the text may stand. */
  reachPx?: number;
}

const LINE = 1.22;
const CLEAR = 3;

/** Finds room for texts: never on a symbol, a pipe, another text or the edge. */
export class Labels {
  readonly texts: TextBox[] = [];
  private readonly taken: Box[];
  private readonly page: Box;

  constructor(page: Box, symbols: readonly Box[], pipes: readonly Pipe[]) {
    this.page = page;
    this.taken = [...symbols];
    for (const pipe of pipes) {
      for (let i = 1; i < pipe.points.length; i += 1) {
        this.taken.push(runBox(pipe.points[i - 1]!, pipe.points[i]!, pipe.role === "signal" ? 9 : 12));
      }
    }
  }

  keepFree(box: Box): void {
    this.taken.push(box);
  }

  isFree(box: Box): boolean {
    return inside(box, this.page) && !this.taken.some((t) => overlaps(t, box));
  }

  /** Places the text or says that there is no room. */
  place(wish: Wish): boolean {
    return (
      this.tryPlace(wish, true) ||
      this.tryPlace(wish, false) ||
      (wish.kind === "name" && this.tryPlace(further(wish), false))
    );
  }

  private tryPlace(wish: Wish, inSight: boolean): boolean {
    const shapes = shapesOf(wish).map((lines) => ({ lines, size: sizeOf(wish, lines) }));
    for (let gap = 4; gap <= (wish.reachPx ?? 40); gap += 4) {
      for (const side of wish.sides) {
        for (const { lines, size } of shapes) {
          for (const box of boxesAt(wish, size, side, gap)) {
            if (!this.isFree(box) || (inSight && !this.sees(wish.near, box, side))) continue;
            this.add(wish, lines, side, box);
            return true;
          }
        }
      }
    }
    return false;
  }

  /** Takes a text where it was meant to stand, if it is still free there. */
  keep(text: TextBox): boolean {
    if (!this.isFree(text)) return false;
    this.texts.push(text);
    this.taken.push(text);
    return true;
  }

  /** Whether nothing lies between a text and what it names. */
  private sees(near: Box, text: Box, side: string): boolean {
    const x = Math.max(near.x, text.x);
    const y = Math.max(near.y, text.y);
    const w = Math.min(near.x + near.w, text.x + text.w) - x;
    const h = Math.min(near.y + near.h, text.y + text.h) - y;
    let between: Box;
    if (side === "t") between = { x, y: text.y + text.h, w: Math.max(w, 2), h: near.y - text.y - text.h };
    else if (side === "b") between = { x, y: near.y + near.h, w: Math.max(w, 2), h: text.y - near.y - near.h };
    else if (side === "l") between = { x: text.x + text.w, y, w: near.x - text.x - text.w, h: Math.max(h, 2) };
    else between = { x: near.x + near.w, y, w: text.x - near.x - near.w, h: Math.max(h, 2) };
    return !this.taken.some((t) => t !== near && overlaps(t, between));
  }

  private add(wish: Wish, lines: string[], side: string, box: Box): void {
    const anchor = side === "l" ? "end" : side === "r" ? "start" : "middle";
    const state = wish.extra !== undefined && wish.extra.length > 0;
    this.texts.push({
      ...box,
      id: wish.id,
      owner: wish.owner,
      kind: wish.kind,
      lines,
      sizePx: wish.sizePx,
      anchor,
      state,
      ...(wish.channel && { channel: wish.channel }),
    });
    this.taken.push({ x: box.x - CLEAR, y: box.y - 1, w: box.w + 2 * CLEAR, h: box.h + 2 });
  }
}

/** A name may stand rather far off before it is left out. */
function further(wish: Wish): Wish {
  return { ...wish, reachPx: 2 * (wish.reachPx ?? 40), sides: ["b", "t", "r", "l"] };
}

function shapesOf(wish: Wish): string[][] {
  const extra = wish.extra ?? [];
  const one = [wish.text, ...extra];
  const two = [...inTwoLines(wish.text), ...extra];
  const three = [...inShortLines(wish.text), ...extra];
  return [one, two, three].filter((lines, i, all) => i === 0 || lines.length > all[i - 1]!.length);
}

function sizeOf(wish: Wish, lines: readonly string[]): { w: number; h: number } {
  const figure = wish.kind === "figure" || wish.kind === "port";
  const widths = lines.map((line) => (figure ? figureWidth(line.length, wish.sizePx) : wordsWidth(line, wish.sizePx)));
  return { w: Math.ceil(Math.max(...widths)), h: Math.ceil(lines.length * wish.sizePx * LINE) };
}

function boxesAt(wish: Wish, { w, h }: { w: number; h: number }, side: string, gap: number): Box[] {
  const { near } = wish;
  const shifts = [0, -0.25, 0.25, -0.5, 0.5];
  if (side === "t" || side === "b") {
    const y = side === "t" ? near.y - gap - h : near.y + near.h + gap;
    return shifts.map((k) => ({ x: near.x + near.w / 2 - w / 2 + k * (near.w + w), y, w, h }));
  }
  const x = side === "l" ? near.x - gap - w : near.x + near.w + gap;
  return shifts.map((k) => ({ x, y: near.y + near.h / 2 - h / 2 + k * (near.h + h), w, h }));
}
