import type { FlatMix } from "./flatMix.ts";
import type { Stepper } from "./stepper.ts";

/** How closely an event is met, Pa of its mix: 1e-7 of an atmosphere. */
export const EVENT_TOLERANCE = 0.01;
const ROOT_PASSES = 60;

/** Value of a mix inside the step. */
export function mixWithin(mix: FlatMix, stepper: Stepper, fraction: number): number {
  let e = mix.offset;
  for (let k = 0; k < mix.index.length; k++) e += mix.weight[k] * stepper.at(mix.index[k], fraction);
  return e;
}

/**
 * First place in (0, 1] where the mix has risen to zero, or -1. It is looked for at both halves of the step, so that
 * a rise and fall within one step is seen when it lasts across the middle.
 */
export function firstRise(mix: FlatMix, stepper: Stepper): number {
  if (mixWithin(mix, stepper, 0.5) >= 0) return rootBetween(mix, stepper, 0, 0.5);
  return mixWithin(mix, stepper, 1) >= 0 ? rootBetween(mix, stepper, 0.5, 1) : -1;
}

/** Root between `low` (mix below zero) and `high` (zero or above), by the Illinois rule on the interpolant. */
export function rootBetween(mix: FlatMix, stepper: Stepper, low: number, high: number): number {
  let a = low;
  let b = high;
  let fa = mixWithin(mix, stepper, a);
  let fb = mixWithin(mix, stepper, b);
  if (fa >= 0) return a;
  let side = 0;
  for (let pass = 0; pass < ROOT_PASSES && b - a > 1e-13 * b; pass++) {
    const c = (a * fb - b * fa) / (fb - fa);
    const fc = mixWithin(mix, stepper, c);
    if (fc >= 0) {
      b = c;
      fb = fc;
      if (side === 1) fa *= 0.5;
      side = 1;
      if (fc < EVENT_TOLERANCE * 1e-3) break;
    } else {
      a = c;
      fa = fc;
      if (side === -1) fb *= 0.5;
      side = -1;
    }
  }
  return b;
}
