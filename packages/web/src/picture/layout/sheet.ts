import type { SchematicPart } from "../schematic.ts";
import { type Box, grown, inside, onTrack, overlaps, TRACK } from "./geometry.ts";
import { shapeOf } from "./shapes.ts";
import type { Placed, Spot, Stance } from "./types.ts";

/** The sheet while symbols are being put on it. */
export class Sheet {
  readonly placed: Placed[] = [];
  private readonly byPart = new Map<string, Placed>();
  /** Pipes keep between these heights if they can. */
  margins: { top: number; bottom: number } | null = null;
  readonly widthPx: number;
  readonly heightPx: number;
  private readonly portsOf: Map<string, string[]>;

  constructor(widthPx: number, heightPx: number, portsOf: Map<string, string[]>) {
    this.widthPx = widthPx;
    this.heightPx = heightPx;
    this.portsOf = portsOf;
  }

  has(part: string): boolean {
    return this.byPart.has(part);
  }

  of(part: string): Placed | undefined {
    return this.byPart.get(part);
  }

  /** Puts a symbol with its upper left corner near (x, y). */
  put(
    part: SchematicPart,
    x: number,
    y: number,
    stance: Stance = {},
    others: SchematicPart[] = [],
    shape: string = part.kind,
  ): Placed {
    const form = shapeOf(shape, stance);
    const box = { x: onTrack(x), y: onTrack(y), w: form.w, h: form.h };
    const parts = [part, ...others];
    const spots: Record<string, Spot[]> = {};
    for (const p of parts) {
      for (const port of this.portsOf.get(p.id) ?? []) {
        spots[`${p.id}:${port}`] = form
          .spots(shapePort(p, port, parts.length > 1))
          .map((s) => ({ ...s, x: s.x + box.x, y: s.y + box.y }));
      }
    }
    const placed: Placed = { id: part.id, parts: parts.map((p) => p.id), shape, box, stance, spots };
    this.placed.push(placed);
    for (const p of parts) this.byPart.set(p.id, placed);
    return placed;
  }

  /** Puts a symbol with its middle near (x, y). */
  putMiddle(part: SchematicPart, x: number, y: number, stance: Stance = {}): Placed {
    const form = shapeOf(part.kind, stance);
    return this.put(part, x - form.w / 2, y - form.h / 2, stance);
  }

  /** Whether a box lies on the sheet and clear of every symbol by the margin. */
  isFree(box: Box, margin: number): boolean {
    const page = { x: 0, y: 0, w: this.widthPx, h: this.heightPx };
    return inside(box, page) && !this.placed.some((p) => overlaps(grown(box, margin), p.box));
  }

  /** Puts a symbol at the free place nearest to (x, y). */
  putNear(part: SchematicPart, x: number, y: number, stance: Stance = {}, margin = 24): Placed {
    const form = shapeOf(part.kind, stance);
    for (const gap of [margin, margin / 2, 6]) {
      const spot = this.nearestFree(x - form.w / 2, y - form.h / 2, form.w, form.h, gap);
      if (spot) return this.put(part, spot.x, spot.y, stance);
    }
    return this.put(part, x, y, stance);
  }

  private nearestFree(x: number, y: number, w: number, h: number, margin: number) {
    const step = 2 * TRACK;
    for (let ring = 0; ring < 40; ring += 1) {
      let best: { x: number; y: number; far: number } | null = null;
      for (let i = -ring; i <= ring; i += 1) {
        for (const [dx, dy] of ringCells(i, ring)) {
          const box = { x: onTrack(x + dx * step), y: onTrack(y + dy * step), w, h };
          const far = dx * dx + dy * dy;
          if ((!best || far < best.far) && this.isFree(box, margin)) best = { x: box.x, y: box.y, far };
        }
      }
      if (best) return best;
    }
    return null;
  }
}

/** A spring chamber drawn together with its service chamber has the spring side's port, number 12. */
function shapePort(part: SchematicPart, port: string, together: boolean): string {
  return together && part.kind === "springChamber" ? "12" : port;
}

function ringCells(i: number, ring: number): [number, number][] {
  return [
    [i, -ring],
    [i, ring],
    [-ring, i],
    [ring, i],
  ];
}
