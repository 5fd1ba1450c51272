import { describe, expect, it } from "vitest";
import { Simulation } from "../src/index.ts";
import { literal } from "../src/numerics/straightLine.ts";
import { everyPart, LIVELY_START } from "./everyPart.ts";
import { charged, trialBus } from "./trialBus.ts";

describe("straight-line code", () => {
  it("gives the same bits as the loops over tables, on a whole session", () => {
    const hash = (straightLine: boolean): string => {
      const run = new Simulation(trialBus(), { start: charged(105), straightLine });
      run.setControl({ tick: 0, control: "key", value: 1 });
      run.setControl({ tick: 10, control: "parking", value: 1 });
      run.setControl({ tick: 300, control: "pedal", value: 1 });
      run.setControl({ tick: 400, control: "pedal", value: 0 });
      run.setControl({ tick: 500, control: "drain.primary", value: 1 });
      expect(run.advanceTo(2000)).toEqual({ ok: true });
      return run.traceHash();
    };
    expect(hash(true)).toBe(hash(false));
  });

  it("gives the same bits where pilots, water and half-open seats are in play", () => {
    for (const isothermal of [true, false]) {
      const hash = (straightLine: boolean): string => {
        const run = new Simulation(everyPart(isothermal), { start: LIVELY_START, straightLine });
        run.setControl({ tick: 5, control: "pedal", value: 0.7 });
        expect(run.advanceTo(300)).toEqual({ ok: true });
        return run.traceHash();
      };
      expect(hash(true)).toBe(hash(false));
    }
  });

  it("writes numbers that read back to the same bits, and refuses what is not a number", () => {
    for (const value of [0.1, -1e-300, 123456789.125, -0, 5e-324]) {
      expect(Object.is(new Function(`return ${literal(value)};`)(), value)).toBe(true);
    }
    expect(() => literal(Number.NaN)).toThrow(/cannot write NaN/);
  });
});
