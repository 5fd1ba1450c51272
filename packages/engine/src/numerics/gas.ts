/**
 * Air as the engine sees it: an ideal gas with constant specific heats. Between -40 and 200 C and up to 12 bar the
 * error of that is under 1 % in density and 2 % in specific heat (docs/limits.md).
 */

/** Specific gas constant of dry air, J/(kg K). @source [Kluever] as printed with the textbook chamber; [ISO2533] gives 287.05. */
export const GAS_CONSTANT = 287.05;
/** Ratio of specific heats. @source [PhysicsAir] 1.1 */
export const GAMMA_AIR = 1.4;
/** Specific heat at constant pressure, J/(kg K), from the two above. */
export const CP = (GAMMA_AIR * GAS_CONSTANT) / (GAMMA_AIR - 1);
/** Specific heat at constant volume, J/(kg K). */
export const CV = GAS_CONSTANT / (GAMMA_AIR - 1);
/** Reference density and temperature of ISO 6358: 1.185 kg/m3 at 20 C, 100 kPa, 65 % humidity. @source [ISO6358] from memory */
export const REFERENCE_DENSITY = 1.185;
export const REFERENCE_TEMPERATURE_K = 293.15;
