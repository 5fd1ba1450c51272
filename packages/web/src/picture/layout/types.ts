import type { Box, Point, Side } from "./geometry.ts";

export type { Point } from "./geometry.ts";

/** A place on a symbol where a pipe ends: the drawn end, the way out, and how gladly it is used (0 is best). */
export interface Spot {
  x: number;
  y: number;
  side: Side;
  price: number;
}

/** How a symbol stands: `mirror` puts the supply side right, `flip` puts the pilot end up. */
export interface Stance {
  mirror?: boolean;
  flip?: boolean;
  /** Side of a valve square. */
  square?: 24 | 30;
  /** For symbols with a direction: the way the air goes. */
  way?: Side;
  /** Outer size where it is free (tanks, boxes). */
  w?: number;
  h?: number;
  /** Whether a tank shows its name and figure in the larger sizes. */
  roomy?: boolean;
  /** Outlets that carry different air. */
  outlets?: number;
  /** How much of a wheel end is shown. */
  detail?: WheelDetail;
}

export type WheelDetail = "full" | "medium" | "compact";

/** A symbol on the sheet. A wheel end may stand for two parts (its service and its spring chamber). */
export interface Placed {
  id: string;
  parts: string[];
  shape: string;
  box: Box;
  stance: Stance;
  /** Ports by `part:port`; spots are in sheet pixels. */
  spots: Record<string, Spot[]>;
}

export interface TextBox extends Box {
  id: string;
  owner: string;
  kind: "name" | "figure" | "port" | "circuit";
  lines: string[];
  sizePx: number;
  anchor: "start" | "middle" | "end";
  /** The last line is the state of the part and changes. */
  state?: boolean;
  /** Channel of a figure. */
  channel?: string;
}

/** A run of pipe between two ends, tees or ports: where it goes and which flows it carries. */
export interface Pipe {
  id: string;
  circuit: string;
  role: "pipe" | "signal";
  points: Point[];
  /** Stretches left blank for a name, as distances along the run. */
  gaps: { from: number; to: number }[];
  flows: { line: string; sign: 1 | -1 }[];
}

export interface Tee extends Point {
  circuit: string;
}

export interface Layout {
  widthPx: number;
  heightPx: number;
  placed: Placed[];
  pipes: Pipe[];
  tees: Tee[];
  texts: TextBox[];
  /** Where tractor and trailer part, on a wide sheet with both; else 0. */
  dividerX: number;
  /** Where the wheels begin on a narrow sheet; 0 on a wide one. */
  wheelsY: number;
  /** What the layout could not do well: tests hold this empty for the demo fleet. */
  problems: string[];
}
