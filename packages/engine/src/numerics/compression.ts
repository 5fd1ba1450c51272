/**
 * Powers of the pressure ratio that a polytropic compressor needs (n = 1.3), as rational functions of s = x - 1:
 * the loop may use only exact operations. Largest relative error 1.2e-4 for x from 0.9 to 13 and 1.4e-4 to 14; beyond (a stuck governor at
 * altitude) it grows slowly and stays under 2e-3 to x = 20 (test/numerics/compression.test.ts measures all three).
 */
export const POLYTROPIC_INDEX = 1.3;

/** x^(1/1.3) */
export function expansionRatio(x: number): number {
  const s = x - 1;
  return (
    (1 + s * (1.239783673 + s * (0.3007990403 + s * 0.007826758134))) / (1 + s * (0.4711563868 + s * 0.02399925513))
  );
}

/** x^(0.3/1.3) */
export function temperatureRatio(x: number): number {
  const s = x - 1;
  return (
    (1 + s * (0.897722225 + s * (0.1262878204 + s * 0.0008006097696))) / (1 + s * (0.6675763484 + s * 0.05783873122))
  );
}

function slopeOfQuotient(top: number, topSlope: number, bottom: number, bottomSlope: number): number {
  return (topSlope * bottom - top * bottomSlope) / (bottom * bottom);
}

export function expansionRatioSlope(x: number): number {
  const s = x - 1;
  return slopeOfQuotient(
    1 + s * (1.239783673 + s * (0.3007990403 + s * 0.007826758134)),
    1.239783673 + s * (2 * 0.3007990403 + s * 3 * 0.007826758134),
    1 + s * (0.4711563868 + s * 0.02399925513),
    0.4711563868 + s * 2 * 0.02399925513,
  );
}

export function temperatureRatioSlope(x: number): number {
  const s = x - 1;
  return slopeOfQuotient(
    1 + s * (0.897722225 + s * (0.1262878204 + s * 0.0008006097696)),
    0.897722225 + s * (2 * 0.1262878204 + s * 3 * 0.0008006097696),
    1 + s * (0.6675763484 + s * 0.05783873122),
    0.6675763484 + s * 2 * 0.05783873122,
  );
}

/**
 * Filling factor B of a reciprocating compressor against shaft speed (rev/min): 0.90, 0.85 and 0.75 at 1000, 1800 and 3000.
 * The value at 1800 is the one published point (720 cm3, 30.3 ft3/min at 120 psi); the fall with speed is from memory.
 * @source [PhysicsAir] 2.1
 */
export function fillingFactor(rpm: number): number {
  return 0.945 - rpm * (3.75e-5 + rpm * 9.2e-9);
}

export function fillingFactorSlope(rpm: number): number {
  return -(3.75e-5 + 2 * rpm * 9.2e-9);
}
