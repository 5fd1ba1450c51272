import { figureWidth, wordsWidth } from "../layout/metrics.ts";

/** Width from which the name of a tank stands inside it. */
export const NAMED_FROM = 110;

/** Sizes of name and figure in a tank. A figure has up to four characters: 1000 kPa, 10.2 bar. */
export const TANK_TEXT = {
  roomy: { name: 15.5, figure: 27 },
  close: { name: 14, figure: 22 },
} as const;

/** Room at both rounded ends together, and between name and figure. */
const ENDS = 34;
const BETWEEN = 8;

/** Width of a tank that holds its name and its pressure, sheet px; a whole number of tracks. */
export function tankWidth(name: string, roomy: boolean): number {
  const size = roomy ? TANK_TEXT.roomy : TANK_TEXT.close;
  const width = ENDS + wordsWidth(name, size.name) + BETWEEN + figureWidth(4, size.figure);
  return Math.ceil(width / 12) * 12;
}
