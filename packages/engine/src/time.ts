/** Length of one tick in seconds. Controls change only on a tick; time is counted in whole ticks. */
export const TICK_S = 0.01;

/** Time of a tick in seconds. Always a product, never a running sum, so that it has one value everywhere. */
export function tickTimeS(tick: number): number {
  return tick * TICK_S;
}
