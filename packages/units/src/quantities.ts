/**
 * Units as people write and read them, and the way to SI and back. Inside, everything is SI; these functions are for
 * the edge. All factors follow from the definitions of the units: inch, foot, mile, pound and the standard fall of
 * gravity are exact by agreement.
 *
 * @source [NIST811] appendix B, from memory: 1 in = 0.0254 m, 1 lb = 0.45359237 kg, g = 9.80665 m/s2, mechanical
 *   horsepower 550 ft lbf/s
 */

/** SI = (written + zero) x factor. */
interface Unit {
  readonly factor: number;
  /** What is added before multiplying; only temperatures have one. */
  readonly zero?: number;
}

const INCH_M = 0.0254;
const FOOT_M = 0.3048;
const MILE_M = 1609.344;
const POUND_KG = 0.45359237;
const STANDARD_GRAVITY = 9.80665;
const POUND_FORCE_N = POUND_KG * STANDARD_GRAVITY;
/** 6894.757293168 Pa. */
const PSI_PA = POUND_FORCE_N / (INCH_M * INCH_M);
const CUBIC_FOOT_M3 = FOOT_M * FOOT_M * FOOT_M;
const PI = 3.141592653589793;

const QUANTITIES = {
  /** Pressure or a difference of two; gauge stays gauge and absolute stays absolute. SI: Pa. */
  pressure: { psi: { factor: PSI_PA }, kPa: { factor: 1000 }, bar: { factor: 100_000 }, Pa: { factor: 1 } },
  /** SI: Pa/s. */
  pressureRate: {
    "psi/min": { factor: PSI_PA / 60 },
    "kPa/min": { factor: 1000 / 60 },
    "bar/min": { factor: 100_000 / 60 },
  },
  /** SI: m. */
  length: {
    in: { factor: INCH_M },
    mm: { factor: 0.001 },
    cm: { factor: 0.01 },
    m: { factor: 1 },
    ft: { factor: FOOT_M },
  },
  /** Length of road. SI: m. */
  distance: { mi: { factor: MILE_M }, km: { factor: 1000 }, ft: { factor: FOOT_M }, m: { factor: 1 } },
  /** SI: m2. */
  area: { in2: { factor: INCH_M * INCH_M }, cm2: { factor: 0.0001 }, mm2: { factor: 0.000001 }, m2: { factor: 1 } },
  /** SI: m3. */
  volume: {
    in3: { factor: INCH_M * INCH_M * INCH_M },
    L: { factor: 0.001 },
    cm3: { factor: 0.000001 },
    ft3: { factor: CUBIC_FOOT_M3 },
    m3: { factor: 1 },
  },
  /** SI: kg. */
  mass: { lb: { factor: POUND_KG }, kg: { factor: 1 }, t: { factor: 1000 } },
  /** SI: N. */
  force: { lbf: { factor: POUND_FORCE_N }, N: { factor: 1 }, kN: { factor: 1000 } },
  /** SI: N/m. */
  stiffness: { "lbf/in": { factor: POUND_FORCE_N / INCH_M }, "N/mm": { factor: 1000 } },
  /** SI: N m. */
  torque: {
    "lbf ft": { factor: POUND_FORCE_N * FOOT_M },
    "lbf in": { factor: POUND_FORCE_N * INCH_M },
    "N m": { factor: 1 },
  },
  /** SI: W. */
  power: { hp: { factor: 550 * FOOT_M * POUND_FORCE_N }, kW: { factor: 1000 }, W: { factor: 1 } },
  /** Turns per minute, kept as they are because everybody in the trade does. */
  turning: { rpm: { factor: 1 } },
  /** A temperature on a scale. SI: K. */
  temperature: { F: { factor: 5 / 9, zero: 459.67 }, C: { factor: 1, zero: 273.15 }, K: { factor: 1 } },
  /** A difference of two temperatures. SI: K. */
  warming: { F: { factor: 5 / 9 }, C: { factor: 1 }, K: { factor: 1 } },
  /** SI: s. */
  time: { s: { factor: 1 }, ms: { factor: 0.001 }, min: { factor: 60 }, h: { factor: 3600 } },
  /** SI: m/s. */
  speed: {
    mph: { factor: MILE_M / 3600 },
    "km/h": { factor: 1 / 3.6 },
    "ft/s": { factor: FOOT_M },
    "m/s": { factor: 1 },
  },
  /** SI: m/s2. */
  acceleration: { "ft/s2": { factor: FOOT_M }, g: { factor: STANDARD_GRAVITY }, "m/s2": { factor: 1 } },
  /** A bare number: ratios, shares, coefficients. */
  ratio: { "1": { factor: 1 }, "%": { factor: 0.01 } },
  /** Sonic conductance after ISO 6358. SI: m3/(s Pa). */
  conductance: { "dm3/(s bar)": { factor: 0.00000001 } },
  /** Heat flow per degree. SI: W/K. */
  heatConductance: { "W/K": { factor: 1 } },
  /** SI: rad. */
  angle: { deg: { factor: PI / 180 }, rad: { factor: 1 } },
  /** Volume of air per time, at the state that the text beside it names. SI: m3/s. */
  airFlow: { "ft3/min": { factor: CUBIC_FOOT_M3 / 60 }, "L/min": { factor: 0.001 / 60 }, "m3/s": { factor: 1 } },
} as const satisfies Record<string, Record<string, Unit>>;

/** Kind of a quantity: decides the units it may be written in. */
export type QuantityKind = keyof typeof QUANTITIES;

/** Names of the units of one kind. */
export type UnitOf<K extends QuantityKind> = keyof (typeof QUANTITIES)[K] & string;

function unitsOf(kind: QuantityKind): Readonly<Record<string, Unit>> {
  return QUANTITIES[kind];
}

function unitNamed(kind: QuantityKind, unit: string): Unit {
  const units = unitsOf(kind);
  const found = Object.hasOwn(units, unit) ? units[unit] : undefined;
  if (found) return found;
  throw new RangeError(`"${unit}" is no unit of ${kind}; it may be ${Object.keys(units).join(", ")}`);
}

/** All kinds of quantity. */
export function quantityKinds(): readonly QuantityKind[] {
  return Object.keys(QUANTITIES) as QuantityKind[];
}

/** Names of the units in which a quantity of this kind may be written. */
export function unitNames(kind: QuantityKind): readonly string[] {
  return Object.keys(unitsOf(kind));
}

/** Whether a quantity of this kind may be written in this unit. */
export function hasUnit(kind: QuantityKind, unit: string): boolean {
  return Object.hasOwn(unitsOf(kind), unit);
}

/**
 * A written number in SI.
 *
 * @throws RangeError when the unit is not one of the kind's
 */
export function toSi(kind: QuantityKind, value: number, unit: string): number {
  const { factor, zero = 0 } = unitNamed(kind, unit);
  return (value + zero) * factor;
}

/**
 * A number in SI as it is written in a unit.
 *
 * @throws RangeError when the unit is not one of the kind's
 */
export function fromSi(kind: QuantityKind, si: number, unit: string): number {
  const { factor, zero = 0 } = unitNamed(kind, unit);
  return si / factor - zero;
}
