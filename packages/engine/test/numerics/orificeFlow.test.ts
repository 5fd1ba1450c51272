import { describe, expect, it } from "vitest";
import { flowFactor, flowFactorSlope, LAMINAR_U } from "../../src/numerics/orificeFlow.ts";

/** ISO 6358 as printed: flow over choked flow, by pressure ratio r and critical ratio b. */
function iso6358(r: number, b: number): number {
  return r <= b ? 1 : Math.sqrt(1 - ((r - b) / (1 - b)) ** 2);
}

/** Isentropic nozzle with g = 1.4, over its own choked flow. Source: textbook form, in docs/references.md. */
function isentropic(r: number): number {
  const g = 1.4;
  const flow = (x: number): number => Math.sqrt(x ** (2 / g) - x ** ((g + 1) / g));
  const critical = (2 / (g + 1)) ** (g / (g - 1));
  return r <= critical ? 1 : flow(r) / flow(critical);
}

const u = (r: number, b: number): number => (1 - r) / (1 - b);

describe("flow through an orifice", () => {
  it("is the formula of ISO 6358 from choking to where the patch begins, for any critical ratio", () => {
    for (const b of [0, 0.15, 0.3, 0.45, 0.528]) {
      for (let k = 0; k <= 1000; k++) {
        const r = k / 1000;
        if (u(r, b) < LAMINAR_U) continue;
        expect(Math.abs(flowFactor(u(r, b)) - iso6358(r, b))).toBeLessThan(1e-12);
      }
    }
  });

  it("meets the patch in value and slope", () => {
    const near = 1e-10;
    expect(Math.abs(flowFactor(LAMINAR_U + near) - flowFactor(LAMINAR_U - near))).toBeLessThan(4e-9);
    const slope = (x: number): number => flowFactorSlope(x, flowFactor(x));
    const atEdge = slope(LAMINAR_U + near);
    expect(Math.abs(slope(LAMINAR_U - near) / atEdge - 1)).toBeLessThan(1e-6);
  });

  it("meets choking in value and slope", () => {
    expect(1 - flowFactor(1 - 1e-6)).toBeLessThan(1e-12);
    expect(flowFactor(1)).toBe(1);
    expect(flowFactorSlope(1 - 1e-6, flowFactor(1 - 1e-6))).toBeLessThan(1.1e-6);
    expect(flowFactorSlope(1, 1)).toBe(0);
  });

  it("is nothing at no difference, odd about it, and never falls", () => {
    expect(flowFactor(0)).toBe(0);
    // Odd: u (a + c u^2) has no even part, so the flow turns round without a bend.
    expect(flowFactorSlope(1e-9, flowFactor(1e-9))).toBeCloseTo(flowFactorSlope(0, 0), 6);
    for (let k = 0; k < 2000; k++) expect(flowFactor((k + 1) / 2000)).toBeGreaterThan(flowFactor(k / 2000));
  });

  it("has the slope of its differences on both sides of every join", () => {
    for (const at of [1e-4, 0.002, 0.0049, 0.0051, 0.05, 0.5, 0.95, 1.5]) {
      const step = 1e-7;
      const central = (flowFactor(at + step) - flowFactor(at - step)) / (2 * step);
      expect(Math.abs(flowFactorSlope(at, flowFactor(at)) - central)).toBeLessThan(2e-6 * (1 + central));
    }
  });

  it("stays below the root within the patch, at most by 8 % of choked flow", () => {
    let most = 0;
    for (let k = 1; k < 1000; k++) {
      const x = (LAMINAR_U * k) / 1000;
      const below = Math.sqrt(x * (2 - x)) - flowFactor(x);
      expect(below).toBeGreaterThan(-1e-12);
      most = Math.max(most, below);
    }
    expect(most).toBeLessThan(0.08);
  });

  it("follows the isentropic nozzle within 0.16 % of choked flow at its critical ratio of 0.528", () => {
    let most = 0;
    for (let k = 0; k <= 10000; k++) {
      const r = k / 10000;
      if (u(r, 0.5283) < LAMINAR_U) continue;
      most = Math.max(most, Math.abs(flowFactor(u(r, 0.5283)) - isentropic(r)));
    }
    expect(most).toBeLessThan(1.6e-3);
    expect(most).toBeGreaterThan(1.3e-3);
  });
});
