import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ControlEntry, PSI, Simulation } from "../src/index.ts";
import { charged, trialBus } from "./trialBus.ts";

const model = trialBus();
const at = (id: string): number => model.channels.findIndex((c) => c.id === id);

/** A short in-cab session: start, release, press, hold, fan, park, each at its tick. */
const session: ControlEntry[] = [
  { tick: 0, control: "key", value: 1 },
  { tick: 50, control: "starter", value: 1 },
  { tick: 150, control: "starter", value: 0 },
  { tick: 400, control: "parking", value: 1 },
  { tick: 900, control: "pedal", value: 0.4 },
  { tick: 903, control: "pedal", value: 0.45 },
  { tick: 1200, control: "pedal", value: 0 },
  { tick: 1500, control: "pedal", value: 1 },
  { tick: 1600, control: "pedal", value: 0 },
  { tick: 1800, control: "throttle", value: 1500 },
  { tick: 2500, control: "key", value: 0 },
  { tick: 2600, control: "parking", value: 0 },
  { tick: 2600, control: "drain.primary", value: 1 },
  { tick: 2700, control: "drain.primary", value: 0 },
];
const END = 3000;

function newRun(): Simulation {
  return new Simulation(model, { start: charged(105) });
}

function headless(): Simulation {
  const run = newRun();
  for (const entry of session) run.setControl(entry);
  expect(run.advanceTo(END)).toEqual({ ok: true });
  return run;
}

/** Advances in given pieces; every entry becomes known only when its tick is reached, as a live page does it. */
function live(pieces: readonly number[], afterPiece: (run: Simulation) => Simulation = (run) => run): Simulation {
  let run = newRun();
  let next = 0;
  let piece = 0;
  const deliver = (): void => {
    while (next < session.length && session[next].tick <= run.tick) run.setControl(session[next++]);
  };
  deliver();
  while (run.tick < END) {
    const wanted = run.tick + pieces[piece++ % pieces.length];
    const limit = next < session.length ? session[next].tick : END;
    run.advanceTo(Math.min(wanted, limit, END));
    run.sample();
    deliver();
    run = afterPiece(run);
  }
  return run;
}

describe("one trace, however it is run", () => {
  const expected = headless().traceHash();

  it("gives the same trace live as headless, in pieces of any size", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 1, maxLength: 12 }), (pieces) => {
        expect(live(pieces).traceHash()).toBe(expected);
      }),
      { numRuns: 12, seed: 20261125 },
    );
  });

  it("is not changed by storing and restoring into a fresh run at any piece", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 20, max: 400 }), { minLength: 1, maxLength: 6 }), (pieces) => {
        const moved = live(pieces, (run) => {
          const other = newRun();
          other.restore(run.snapshot());
          expect(Array.from(other.sample())).toEqual(Array.from(run.sample()));
          return other;
        });
        expect(moved.traceHash()).toBe(expected);
      }),
      { numRuns: 6, seed: 20261126 },
    );
  });

  it("is not changed by another run that is interleaved with it", () => {
    const a = newRun();
    const b = newRun();
    for (const entry of session) {
      a.setControl(entry);
      if (entry.control !== "pedal") b.setControl(entry);
    }
    for (let tick = 100; tick <= END; tick += 100) {
      a.advanceTo(tick);
      b.advanceTo(tick);
    }
    expect(a.traceHash()).toBe(expected);
    expect(b.traceHash()).not.toBe(expected);
  });

  it("notices a control one tick later", () => {
    const run = newRun();
    for (const e of session) run.setControl(e.tick === 1200 ? { ...e, tick: 1201 } : e);
    run.advanceTo(END);
    expect(run.traceHash()).not.toBe(expected);
  });
});

describe("a run says what went wrong", () => {
  it("refuses unknown controls, values out of range, passed and broken ticks, and leaves the run as it was", () => {
    const run = newRun();
    run.advanceTo(100);
    const before = Array.from(run.snapshot());
    expect(() => run.setControl({ tick: 200, control: "peddle", value: 0 })).toThrow(/no control "peddle"/);
    expect(() => run.setControl({ tick: 200, control: "pedal", value: 1.2 })).toThrow(/takes 0 to 1, not 1.2/);
    expect(() => run.setControl({ tick: 200, control: "pedal", value: Number.NaN })).toThrow(/not NaN/);
    expect(() => run.setControl({ tick: 99, control: "pedal", value: 0 })).toThrow(/tick 99 has passed/);
    expect(() => run.setControl({ tick: 200.5, control: "pedal", value: 0 })).toThrow(/whole tick/);
    expect(() => run.advanceTo(99)).toThrow(/whole tick from 100 on/);
    expect(Array.from(run.snapshot())).toEqual(before);
  });

  it("refuses a start that names what is not there or cannot be", () => {
    const start = (nodes: Record<string, { gaugePressurePa?: number; temperatureK?: number }>) => () =>
      new Simulation(model, { start: { nodes } });
    expect(start({ tertiary: {} })).toThrow(/node "tertiary"; this vehicle has/);
    expect(start({ primary: { gaugePressurePa: Number.NaN } })).toThrow(/start pressure of primary/);
    expect(start({ primary: { gaugePressurePa: -2e5 } })).toThrow(/above vacuum/);
    expect(start({ primary: { temperatureK: 20 } })).toThrow(/150..700 K/);
  });
});

describe("balance of mass and energy", () => {
  it("closes on the session: mass to rounding, energy to the accuracy of the steps", () => {
    const balance = headless().balance();
    expect(Math.abs(balance.mass.error)).toBeLessThan(1e-12 * balance.mass.start);
    expect(Math.abs(balance.energy.error)).toBeLessThan(1e-4 * balance.energy.start);
    expect(balance.mass.in).toBeGreaterThan(0.02);
    expect(balance.mass.out).toBeGreaterThan(0.02);
  });
});

describe("balance with the air held at wall temperature", () => {
  it("closes to the accuracy of the steps, work of moving chambers included", () => {
    const run = new Simulation(trialBus({ isothermal: true }), { start: charged(105) });
    for (const entry of session) run.setControl(entry);
    run.advanceTo(END);
    expect(run.balance().relativeError).toBeLessThan(1e-5);
  });
});

describe("what a driver knows", () => {
  it("needles fall as the brake is applied, creep back after release, and never fall because of the release", () => {
    const run = newRun();
    run.setControl({ tick: 0, control: "pedal", value: 1 });
    run.setControl({ tick: 200, control: "pedal", value: 0 });
    const primary = (tick: number): number => {
      run.advanceTo(tick);
      return run.sample()[at("pressure.primary")] / PSI;
    };
    const before = primary(1);
    const held = primary(200);
    const justAfter = primary(240);
    const later = primary(3200);
    expect(before - held).toBeGreaterThan(5);
    expect(justAfter).toBeGreaterThanOrEqual(held - 0.05);
    expect(later - justAfter).toBeGreaterThan(1);
    expect(later - justAfter).toBeLessThan(4);
  });

  it("the parking control pops between 20 and 45 psi, and does not stay in below its hold-in pressure", () => {
    const run = newRun();
    run.setControl({ tick: 0, control: "parking", value: 1 });
    for (const tank of ["supply", "primary", "secondary"])
      run.setControl({ tick: 100, control: `drain.${tank}`, value: 1 });
    run.advanceTo(6000);
    const pop = run.takeEvents().find((e) => e.id === "control.parking" && !e.on);
    expect(pop?.timeS).toBeGreaterThan(1);
    run.setControl({ tick: 6000, control: "parking", value: 1 });
    run.advanceTo(6010);
    expect(run.sample()[at("control.parking")]).toBe(0);
    expect(run.takeEvents().map((e) => e.text)).toContain("parking control out: it does not stay in");
  });
});
