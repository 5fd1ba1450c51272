import type { Placed } from "../layout/types.ts";
import type { SchematicPart } from "../schematic.ts";

export interface SymbolProps {
  placed: Placed;
  part: SchematicPart;
}

/** Turns a drawing left to right or upside down inside its box. */
export function turned(placed: Placed): string {
  const { box, stance } = placed;
  const sx = stance.mirror ? -1 : 1;
  const sy = stance.flip ? -1 : 1;
  const x = box.x + (stance.mirror ? box.w : 0);
  const y = box.y + (stance.flip ? box.h : 0);
  return `translate(${x} ${y}) scale(${sx} ${sy})`;
}
