import { GAS_CONSTANT_AIR, SEA_LEVEL_PRESSURE_PA, SEA_LEVEL_TEMPERATURE_K, STANDARD_GRAVITY } from "./constants.ts";
import { pow } from "./exactmath/index.ts";

/** Fall of temperature with height in the lowest layer, K/m. @source [ISO2533] from memory: 6.5 K per km */
const LAPSE_K_PER_M = 0.0065;

/** g / (R x lapse), about 5.2559. */
const EXPONENT = STANDARD_GRAVITY / (GAS_CONSTANT_AIR * LAPSE_K_PER_M);

function requireHeight(heightM: number): void {
  if (!(heightM >= -2000 && heightM <= 11000)) {
    throw new RangeError(`The standard atmosphere is defined here from -2000 m to 11000 m, not at ${heightM} m`);
  }
}

/**
 * Temperature of the standard atmosphere.
 *
 * @param heightM above the sea, m, -2000 to 11000
 * @returns K
 * @throws RangeError outside that range or for NaN
 * @source [ISO2533] from memory: T = 288.15 - 0.0065 h
 */
export function standardTemperatureK(heightM: number): number {
  requireHeight(heightM);
  return SEA_LEVEL_TEMPERATURE_K - LAPSE_K_PER_M * heightM;
}

/**
 * Pressure of the standard atmosphere. The height is taken as geopotential; below 4000 m the two differ by less than
 * 3 m.
 *
 * @param heightM above the sea, m, -2000 to 11000
 * @returns absolute pressure, Pa
 * @throws RangeError outside that range or for NaN
 * @source [ISO2533] from memory: p = 101325 (T / 288.15)^(g / (R lapse))
 */
export function standardPressurePa(heightM: number): number {
  return SEA_LEVEL_PRESSURE_PA * pow(standardTemperatureK(heightM) / SEA_LEVEL_TEMPERATURE_K, EXPONENT);
}
