/**
 * Constants of nature and of the standards, SI. What belongs to one component stands with that component.
 */

/** Specific gas constant of dry air, J/(kg K). @source [ISO2533] from memory: 287.05287 */
export const GAS_CONSTANT_AIR = 287.05287;

/** Ratio of the specific heats of dry air near room temperature. @source [ISO2533] from memory: 1.4 */
export const HEAT_RATIO_AIR = 1.4;

/** Specific heat of air at constant pressure, J/(kg K): 1004.7, from the two above. */
export const HEAT_CAPACITY_AIR = (HEAT_RATIO_AIR * GAS_CONSTANT_AIR) / (HEAT_RATIO_AIR - 1);

/** Temperature of the reference atmosphere in which conductances are stated, K. @source [ISO6358] from memory: 20 C */
export const REFERENCE_TEMPERATURE_K = 293.15;

/** Pressure of that atmosphere, Pa. @source [ISO6358] from memory: 100 kPa */
export const REFERENCE_PRESSURE_PA = 100_000;

/** Density of that atmosphere at 65 % relative humidity, kg/m3. @source [ISO6358] from memory: 1.185 */
export const REFERENCE_DENSITY = 1.185;

/** Standard pressure at sea level, Pa. @source [ISO2533] from memory */
export const SEA_LEVEL_PRESSURE_PA = 101_325;

/** Standard temperature at sea level, K. @source [ISO2533] from memory: 15 C */
export const SEA_LEVEL_TEMPERATURE_K = 288.15;

/** Standard fall of gravity, m/s2. @source [NIST811] from memory, exact by agreement */
export const STANDARD_GRAVITY = 9.80665;
