import { fromSi, toSi } from "@brakeyard/units";
import { PRACTICE, type TypicalNumber } from "../parts/part.ts";
import type { StoredQuantity } from "../values/stored.ts";

/**
 * Typical values that keep their distance from a given one: who writes a cut-out of 140 psi and no cut-in has not a governor
 * that cuts in at 105.
 */

/** A typical pressure at a distance from a given one, in `unit`; the range allows half and double the distance. */
function beside(given: StoredQuantity, distance: number, unit: string): TypicalNumber {
  const at = fromSi("pressure", toSi("pressure", given.value, given.unit), unit);
  const ends = [at + distance / 2, at + 2 * distance];
  return { value: at + distance, low: Math.min(...ends), high: Math.max(...ends), source: PRACTICE };
}

/** Cut-in 20 psi below a given cut-out. */
export function cutInBelow(cutOut: StoredQuantity | undefined) {
  return cutOut ? { cutIn: beside(cutOut, -20, "psi") } : {};
}

/** A protection valve closes 8 psi below where it opens. */
export function closesBelow(opens: StoredQuantity | undefined) {
  return opens ? { closes: beside(opens, -8, "psi") } : {};
}

/** A circuit of a multi-circuit protection valve: 1.4 bar. */
export function circuitClosesBelow(opens: StoredQuantity | undefined) {
  return opens ? { closes: beside(opens, -1.4, "bar") } : {};
}

/** A control holds in from 4 psi above where it pops out. */
export function holdsInAbove(popsOut: StoredQuantity | undefined) {
  return popsOut ? { holdsIn: beside(popsOut, 4, "psi") } : {};
}

/** A tractor protection valve opens 10 psi above where it closes. */
export function opensAbove(closes: StoredQuantity | undefined) {
  return closes ? { opens: beside(closes, 10, "psi") } : {};
}
