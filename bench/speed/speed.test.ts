import { describe, expect, it, vi } from "vitest";
import { errorsOf, errorsOfRungeKutta, eventError, recordProduct, reference, rowError } from "./accuracy.ts";
import { firstLoad } from "./page.ts";
import { runProduct } from "./product.ts";
import { leakDown } from "./quiet.ts";
import { benchText, type Row, reportOf } from "./report.ts";
import { RungeKutta } from "./rungeKutta.ts";
import { inCabCheck, type Session, shortFan } from "./session.ts";
import { benchBus } from "./subjects.ts";

// A whole in-cab check is run here; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 60_000 });

const bus = benchBus();

describe("the frozen vehicle of the bench", () => {
  // Smaller lines slow only plain Runge-Kutta, so the ratio could be made any size. If lines are cut up differently on purpose, say so in a
  // decision: figures from before and after are not comparable.
  it("has the line and chamber volumes it was frozen with, litres", () => {
    const litres = bus.model.nodes.map(({ name, volumeM3 }) => `${name} ${(volumeM3 * 1000).toFixed(3)}`);
    expect(litres).toEqual([
      "supply 20.000",
      "primary 25.000",
      "secondary 20.000",
      "dryer.sump 1.203",
      "dryer.purgeVolume 2.500",
      "doubleCheck1.outlet 0.060",
      "front.left.service 0.260",
      "front.right.service 0.260",
      "rear.left.service 0.277",
      "rear.left.spring 1.392",
      "rear.right.service 0.277",
      "rear.right.spring 1.392",
      "primaryDelivery 0.064",
      "secondaryDelivery 0.057",
      "front.line 0.057",
      "front.controlLine.1 0.053",
      "front.controlLine.2 0.053",
      "front.controlLine.3 0.053",
      "rear.line 0.064",
      "rear.controlLine.1 0.067",
      "rear.controlLine.2 0.067",
      "rear.controlLine.3 0.067",
      "rear.delivery 0.124",
      "parkingDelivery 0.062",
      "parkingLine 0.062",
      "parkingControlLine.1 0.063",
      "parkingControlLine.2 0.063",
      "parkingControlLine.3 0.063",
      "springRelay.delivery 0.115",
    ]);
  });
});

describe("the in-cab check of the bench", () => {
  const session = inCabCheck(bus);
  const run = runProduct(bus, session);
  const events = run.takeEvents();
  const times = (id: string, on: boolean): number[] =>
    events.filter((e) => e.id === id && e.on === on).map((e) => e.timeS);

  it("lasts eight to ten minutes", () => {
    expect(session.ticks).toBeGreaterThanOrEqual(48_000);
    expect(session.ticks).toBeLessThanOrEqual(60_000);
  });

  it("builds to cut-out, cuts in and out again, warns, pops, and builds up once more", () => {
    const cutOuts = times("governor.loaded", false);
    expect(cutOuts.length).toBe(3);
    expect(times("governor.loaded", true).length).toBeGreaterThanOrEqual(2);
    const [pop = 0] = times("control.parking", false);
    const warning = times("lowAirSwitch.primary", true).at(-1) ?? 0;
    expect(warning).toBeGreaterThan(cutOuts[1] ?? 0);
    expect(pop).toBeGreaterThan(warning);
    expect(cutOuts[2]).toBeGreaterThan(pop);
  });

  it("gives the same trace each time", () => {
    expect(runProduct(bus, session).traceHash()).toBe(run.traceHash());
  });
});

describe("plain Runge-Kutta", () => {
  const fan = shortFan(bus);
  /** The first press only, so that the test is quick. */
  const press: Session = { ...fan, log: fan.log.filter((e) => e.tick < 250), ticks: 250 };
  const wanted = reference(bus, press);

  it("comes to the same pressures as the product, with a short step", () => {
    expect(errorsOf(recordProduct(bus, press), wanted).pressure).toBeLessThan(1e-3);
    expect(errorsOfRungeKutta(bus, wanted, 160, 1e-3).pressure).toBeLessThan(1e-6);
  });

  it("leaves the physical range or is wrong with a long one, and is then refused", () => {
    expect(errorsOfRungeKutta(bus, wanted, 10, 1e-3).pressure).toBeGreaterThan(1e-3);
  });

  it("cuts its step at an event", () => {
    const start = bus.assembly.start({ otherTanksPa: 8.6e5, parking: "out", engineRpm: 1200 });
    const build: Session = { title: "cut-out", start, log: [], ticks: 600 };
    const run = new RungeKutta(bus, build, 128);
    expect(run.advanceTo(build.ticks)).toBe(true);
    const product = runProduct(bus, build)
      .takeEvents()
      .find((e) => e.id === "governor.loaded");
    const own = run.events.find((e) => e.id === "governor.loaded");
    expect(Math.abs((own?.timeS ?? Number.NaN) - (product?.timeS ?? 0))).toBeLessThan(1e-4);
  });
});

describe("comparing", () => {
  it("sees a pressure that is off, and one that is no number", () => {
    expect(rowError(Float64Array.of(1e5, 2.02e5), Float64Array.of(1e5, 2e5))).toBeCloseTo(0.01, 12);
    expect(rowError(Float64Array.of(1e5, Number.NaN), Float64Array.of(1e5, 2e5))).toBe(Number.POSITIVE_INFINITY);
  });

  it("sees an event that is late, missing, another, or the other way round", () => {
    const one = [{ timeS: 1, id: "a", on: true }];
    expect(eventError([{ timeS: 1.5, id: "a", on: true }], one)).toBe(0.5);
    expect(eventError([], one)).toBe(Number.POSITIVE_INFINITY);
    expect(eventError([{ timeS: 1, id: "b", on: true }], one)).toBe(Number.POSITIVE_INFINITY);
    expect(eventError([{ timeS: 1, id: "a", on: false }], one)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("the report", () => {
  const row: Row = {
    id: "r",
    what: "speed",
    figure: 3000,
    unit: "s/s",
    bar: 2500,
    better: "more",
    note: "n",
    detail: {},
  };
  const missed = (change: Partial<Row>): boolean => !reportOf({}, false, [{ ...row, ...change }]).ok;

  it("says when a bar is missed", () => {
    expect(missed({})).toBe(false);
    expect(missed({ figure: 2499 })).toBe(true);
    expect(missed({ figure: Number.NaN })).toBe(true);
    expect(missed({ figure: 2501, better: "less" })).toBe(true);
    expect(benchText(reportOf({ node: "20" }, true, [{ ...row, figure: 1 }]))).toMatch(
      /node 20\nquick[\s\S]*MISS speed: 1 s\/s \(at least 2500/,
    );
  });

  it("says when something could not be measured", () => {
    expect(benchText(reportOf({}, false, [{ ...row, figure: null }]))).toContain("--   speed: not measured");
    expect(firstLoad("/no/such/clone")).toBeNull();
  });
});

describe("an hour of leak-down", () => {
  it("takes under 150 steps, and does leak", () => {
    const { statistics, leftPa } = leakDown();
    expect(statistics.steps).toBeLessThan(150);
    expect(leftPa).toBeLessThan(6e5);
  });
});
