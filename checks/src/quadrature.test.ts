import { describe, expect, it } from "vitest";
import { quadrature } from "./quadrature.ts";

describe("quadrature", () => {
  it("finds known areas", () => {
    expect(quadrature(Math.exp, 0, 1)).toBeCloseTo(Math.E - 1, 12);
    expect(quadrature((x) => 1 / x, 1, 10)).toBeCloseTo(Math.LN10, 10);
    expect(quadrature(Math.sqrt, 0, 1)).toBeCloseTo(2 / 3, 8);
  });
});
