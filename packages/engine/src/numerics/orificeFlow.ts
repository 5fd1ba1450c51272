/**
 * Flow through an orifice after ISO 6358, written in u = (1 - r) / (1 - b), with r the pressure ratio
 * downstream / upstream (absolute) and b the critical ratio: the flow factor is sqrt(u (2 - u)), and 1 once choked (u >= 1).
 *
 * Near r = 1 the square root has an infinite slope. Below u = {@link LAMINAR_U} it is replaced by the odd cubic that
 * meets it in value and slope, so that flow reverses smoothly.
 *
 * @source [ISO6358] form as given in docs/references.md; the patch is ours.
 */

/** Where the laminar patch ends. A pressure ratio of about 0.9965 at b = 0.3. */
export const LAMINAR_U = 0.005;

const EDGE = Math.sqrt(LAMINAR_U * (2 - LAMINAR_U));
const EDGE_SLOPE = (1 - LAMINAR_U) / EDGE;
const CUBIC = (EDGE_SLOPE - EDGE / LAMINAR_U) / (2 * LAMINAR_U * LAMINAR_U);
const LINEAR = EDGE / LAMINAR_U - CUBIC * LAMINAR_U * LAMINAR_U;

/** Flow factor 0..1 for u >= 0. */
export function flowFactor(u: number): number {
  if (u >= 1) return 1;
  return u > LAMINAR_U ? Math.sqrt(u * (2 - u)) : u * (LINEAR + CUBIC * u * u);
}

/** Slope of the flow factor; `factor` is the value at the same u. */
export function flowFactorSlope(u: number, factor: number): number {
  if (u >= 1) return 0;
  return u > LAMINAR_U ? (1 - u) / factor : LINEAR + 3 * CUBIC * u * u;
}

/** {@link flowFactor} as an expression in the variable u. */
export const FLOW_FACTOR_CODE = `(u>=1?1:u>${LAMINAR_U}?Math.sqrt(u*(2-u)):u*(${LINEAR}+${CUBIC < 0 ? `(${CUBIC})` : CUBIC}*u*u))`;

/** {@link flowFactorSlope} as an expression in u, with the factor itself in h. */
export const FLOW_FACTOR_SLOPE_CODE = `(u>=1?0:u>${LAMINAR_U}?(1-u)/h:${LINEAR}+3*${CUBIC < 0 ? `(${CUBIC})` : CUBIC}*u*u)`;
