import { wheelSizes } from "../layout/shapes.ts";
import type { WheelDetail } from "../layout/types.ts";

/** How far plate and rod move on the sheet for the whole stroke of a chamber. */
export const TRAVEL = 15;

export interface WheelGeometry {
  half: number;
  chamberW: number;
  chamberH: number;
  chamberY: number;
  serviceX: number;
  figures: { y: number; sizePx: number };
  name: { x: number; y: number; sizePx: number };
  bar: { x: number; y: number; w: number; h: number };
  /** Stroke figure, and force figure where there is room. */
  stroke: { x: number; y: number; sizePx: number };
  force: { x: number; y: number; sizePx: number } | null;
  scale: boolean;
}

/** Where everything of a wheel end stands, from the upper left corner of its box. */
export function wheelGeometry(detail: WheelDetail, spring: boolean, flip: boolean): WheelGeometry {
  const size = wheelSizes(detail, spring);
  const chamberY = flip ? 0 : size.h - size.chamberH;
  const serviceX = spring ? size.half : 0;
  const base = { half: size.half, chamberW: size.chamberW, chamberH: size.chamberH, chamberY, serviceX };
  if (detail === "compact") return compactGeometry(base, flip, size.h);
  const x = size.chamberW + 20;
  const bar = { x, y: chamberY + 18, w: detail === "full" ? 90 : size.w - x, h: 12 };
  const right = bar.x + bar.w + 12;
  return {
    ...base,
    figures: { y: flip ? size.chamberH + 19 : chamberY - 6, sizePx: 19 },
    name: { x: x - 6, y: flip ? 11 : chamberY - 6, sizePx: 15 },
    bar,
    stroke:
      detail === "full"
        ? { x: right, y: chamberY + (flip ? 32 : 20), sizePx: 21 }
        : { x, y: chamberY + 49, sizePx: 19 },
    force: detail === "full" ? { x: right, y: chamberY + (flip ? 54 : 42), sizePx: 18 } : null,
    scale: detail === "full",
  };
}

type Base = Pick<WheelGeometry, "half" | "chamberW" | "chamberH" | "chamberY" | "serviceX">;

function compactGeometry(base: Base, flip: boolean, h: number): WheelGeometry {
  const rows = flip
    ? { figures: base.chamberH + 17, bar: base.chamberH + 24, name: h - 3 }
    : { figures: base.chamberY - 5, bar: 17, name: 12 };
  return {
    ...base,
    figures: { y: rows.figures, sizePx: 18 },
    name: { x: 0, y: rows.name, sizePx: 15.5 },
    bar: { x: 0, y: rows.bar, w: 66, h: 10 },
    stroke: { x: 72, y: rows.bar + 11, sizePx: 17 },
    force: null,
    scale: false,
  };
}
