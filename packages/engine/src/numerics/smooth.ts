/**
 * The named smoothings of the engine. Each replaces a kink by a piece that is once differentiable,
 * so that the stepper is not forced to hunt for it. Every one states how far it is from the kink.
 */

/** Cubic step: 0 for t <= 0, 1 for t >= 1, `t^2 (3 - 2 t)` between. Flat at both ends. */
export function smoothStep(t: number): number {
  return t <= 0 ? 0 : t >= 1 ? 1 : t * t * (3 - 2 * t);
}

/** Slope of {@link smoothStep}. */
export function smoothStepSlope(t: number): number {
  return t <= 0 || t >= 1 ? 0 : 6 * t * (1 - t);
}

/**
 * Ramp `max(0, x)` with the corner replaced by a parabola over `|x| < half`.
 * Largest distance from the true ramp: half / 4, at x = 0; exact outside the corner.
 */
export function ramp(x: number, half: number): number {
  if (x <= -half) return 0;
  if (x >= half) return x;
  const y = x + half;
  return (y * y) / (4 * half);
}

/** Slope of {@link ramp}. */
export function rampSlope(x: number, half: number): number {
  return x <= -half ? 0 : x >= half ? 1 : (x + half) / (2 * half);
}

/** Curvature of {@link ramp}. */
export function rampCurvature(x: number, half: number): number {
  return x <= -half || x >= half ? 0 : 1 / (2 * half);
}

/** Area under {@link ramp} from minus infinity to x. */
export function rampIntegral(x: number, half: number): number {
  if (x <= -half) return 0;
  if (x >= half) return 0.5 * x * x + (half * half) / 6;
  const y = x + half;
  return (y * y * y) / (12 * half);
}

/** {@link ramp} and {@link rampSlope} as expressions in a variable; `half` as it stands in code. */
export function rampCode(x: string, half: string): string {
  return `(${x}<=-${half}?0:${x}>=${half}?${x}:((${x}+${half})*(${x}+${half}))/(4*${half}))`;
}

export function rampSlopeCode(x: string, half: string): string {
  return `(${x}<=-${half}?0:${x}>=${half}?1:(${x}+${half})/(2*${half}))`;
}
