export { standardPressurePa, standardTemperatureK } from "./atmosphere.ts";
export { BitHash, hashOfNumbers, hashOfText } from "./bitHash.ts";
export {
  GAS_CONSTANT_AIR,
  HEAT_CAPACITY_AIR,
  HEAT_RATIO_AIR,
  REFERENCE_DENSITY,
  REFERENCE_PRESSURE_PA,
  REFERENCE_TEMPERATURE_K,
  SEA_LEVEL_PRESSURE_PA,
  SEA_LEVEL_TEMPERATURE_K,
  STANDARD_GRAVITY,
} from "./constants.ts";
export { atan2, cbrt, cos, exp, log, pow, sin } from "./exactmath/index.ts";
export { absoluteFromGauge, gaugeFromAbsolute } from "./gauge.ts";
export { fromSi, hasUnit, type QuantityKind, quantityKinds, toSi, type UnitOf, unitNames } from "./quantities.ts";
export { SeededDraws } from "./seededDraws.ts";
