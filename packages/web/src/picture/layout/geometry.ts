/** Plain geometry of the sheet. All lengths are sheet pixels: CSS pixels at a 1366 x 768 window. */

export interface Point {
  x: number;
  y: number;
}

export interface Box {
  x: number;
  y: number;
  w: number;
  h: number;
}

/** The way a pipe leaves a port: left, right, up, down. */
export type Side = "l" | "r" | "t" | "b";

/** Spacing of the tracks on which pipes may run. */
export const TRACK = 6;

export function overlaps(a: Box, b: Box): boolean {
  return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
}

export function grown(box: Box, by: number): Box {
  return { x: box.x - by, y: box.y - by, w: box.w + 2 * by, h: box.h + 2 * by };
}

export function inside(inner: Box, outer: Box): boolean {
  return (
    inner.x >= outer.x &&
    inner.y >= outer.y &&
    inner.x + inner.w <= outer.x + outer.w &&
    inner.y + inner.h <= outer.y + outer.h
  );
}

/** The box round a straight horizontal or vertical run of a pipe `width` wide. */
export function runBox(a: Point, b: Point, width: number): Box {
  const half = width / 2;
  return {
    x: Math.min(a.x, b.x) - half,
    y: Math.min(a.y, b.y) - half,
    w: Math.abs(a.x - b.x) + width,
    h: Math.abs(a.y - b.y) + width,
  };
}

export function onTrack(value: number): number {
  return Math.floor(value / TRACK + 0.5) * TRACK;
}
