/**
 * Gauges show pressure above the air around them. Inside the model pressures are absolute. At sea level a gauge
 * showing 100 psi (689,476 Pa) stands for 790,801 Pa absolute; the same needle at 2,000 m for 768,971 Pa.
 */

/** Absolute pressure, Pa, from a gauge pressure, Pa, and the pressure around the gauge, Pa absolute. */
export function absoluteFromGauge(gaugePa: number, surroundingsPa: number): number {
  return gaugePa + surroundingsPa;
}

/** Gauge pressure, Pa, from an absolute pressure, Pa, and the pressure around the gauge, Pa absolute. */
export function gaugeFromAbsolute(absolutePa: number, surroundingsPa: number): number {
  return absolutePa - surroundingsPa;
}
