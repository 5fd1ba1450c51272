/**
 * Heat from a wall to the still air inside it: free convection, laminar form Nu = 0.53 Ra^(1/4), horizontal cylinder.
 * With air at 300 K (k 0.0263 W/mK, mu 1.85e-5 Pa s, cp 1005) it becomes h = c (rho^2 |dT| / L)^(1/4) with c below.
 * The jet that fills a tank stirs it and raises h for that time; that is left out (docs/limits.md gives the effect).
 *
 * Laminar up to Ra 1e9: a 20 L tank at 8 bar leaves that above 9 K of difference; at 40 K the turbulent form would give half as much
 * again, which is within what the stirring left out is worth (docs/limits.md).
 *
 * @source [McAdams] ch. 7, horizontal cylinders, from memory
 */
export const FREE_CONVECTION = 1.264; // 0.53 * 0.0263 * (9.81 * 1005 / (300 * 1.85e-5 * 0.0263))^(1/4)

/** Softens |dT| at zero, K. Below it the heat flow is under a watt. */
export const STILL_K = 0.3;

/** Conductance factor of a wall, so that h A = factor * (rho^4 (dT^2 + STILL_K^2))^(1/8). Units W/K with rho in kg/m3. */
export function freeConvectionFactor(areaM2: number, lengthM: number): number {
  return (areaM2 * FREE_CONVECTION) / Math.sqrt(Math.sqrt(lengthM));
}
