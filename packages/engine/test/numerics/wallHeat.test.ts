import { describe, expect, it } from "vitest";
import { FREE_CONVECTION, freeConvectionFactor, STILL_K } from "../../src/numerics/wallHeat.ts";

/** Air at 300 K, from memory. */
const AIR = { conductivity: 0.0263, viscosity: 1.85e-5, heatCapacity: 1005, temperatureK: 300 };
const GRAVITY = 9.81;

/** Heat transfer coefficient by McAdams' horizontal cylinder, laminar: Nu = 0.53 Ra^(1/4). */
function byNusselt(density: number, differenceK: number, lengthM: number): number {
  const { conductivity, viscosity, heatCapacity, temperatureK } = AIR;
  const grashof = (GRAVITY * differenceK * lengthM ** 3 * density ** 2) / (temperatureK * viscosity ** 2);
  const prandtl = (viscosity * heatCapacity) / conductivity;
  return (0.53 * (grashof * prandtl) ** 0.25 * conductivity) / lengthM;
}

describe("heat from a wall to still air", () => {
  it("has the constant that its formula gives", () => {
    const { conductivity: k, viscosity, heatCapacity, temperatureK } = AIR;
    const formula = 0.53 * k * ((GRAVITY * heatCapacity) / (temperatureK * viscosity * k)) ** 0.25;
    expect(Math.abs(FREE_CONVECTION / formula - 1)).toBeLessThan(5e-4);
  });

  it("is the Nusselt number of a horizontal cylinder, for tank and chamber, empty and full", () => {
    for (const [lengthM, areaM2] of [
      [0.24, 0.45],
      [0.1, 0.06],
    ] as const) {
      for (const density of [1.2, 5, 11]) {
        for (const differenceK of [5, 40]) {
          const square = differenceK * differenceK + STILL_K * STILL_K;
          const conductance = freeConvectionFactor(areaM2, lengthM) * (density ** 4 * square) ** 0.125;
          expect(Math.abs(conductance / (byNusselt(density, differenceK, lengthM) * areaM2) - 1)).toBeLessThan(2e-3);
        }
      }
    }
  });

  it("is softened about no difference: at 0.3 K a full tank takes 0.05 W more than unsoftened, a chamber under 0.01 W", () => {
    const excess = (areaM2: number, lengthM: number, density: number): number => {
      const heat = (square: number): number =>
        freeConvectionFactor(areaM2, lengthM) * (density ** 4 * square) ** 0.125 * STILL_K;
      return heat(2 * STILL_K * STILL_K) - heat(STILL_K * STILL_K);
    };
    expect(excess(0.45, 0.24, 11)).toBeCloseTo(0.054, 3);
    expect(excess(0.06, 0.1, 11)).toBeLessThan(0.01);
  });
});

describe("the range of the correlation, Rayleigh number 1e4 to 1e9", () => {
  function rayleigh(density: number, differenceK: number, lengthM: number): number {
    const { conductivity, viscosity, heatCapacity, temperatureK } = AIR;
    const grashof = (GRAVITY * differenceK * lengthM ** 3 * density ** 2) / (temperatureK * viscosity ** 2);
    return (grashof * viscosity * heatCapacity) / conductivity;
  }

  it("is kept by chambers, and by a 20 L tank at 8 bar up to 9 K between air and wall", () => {
    expect(rayleigh(1.2, 1, 0.1)).toBeGreaterThan(1e4);
    expect(rayleigh(10.5, 40, 0.16)).toBeLessThan(1.3e9);
    expect(rayleigh(10.5, 9, 0.24)).toBeLessThan(1e9);
  });

  it("is left by a hot full tank: at 40 K the turbulent form, 0.13 Ra^(1/3), gives half as much again", () => {
    const ra = rayleigh(10.5, 40, 0.24);
    expect(ra).toBeGreaterThan(4e9);
    const ratio = (0.13 * ra ** (1 / 3)) / (0.53 * ra ** 0.25);
    expect(ratio).toBeGreaterThan(1.4);
    expect(ratio).toBeLessThan(1.7);
  });
});
