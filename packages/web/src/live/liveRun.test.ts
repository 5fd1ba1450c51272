import { Simulation } from "@brakeyard/engine";
import { fleet, loadRun } from "@brakeyard/vehicle";
import { describe, expect, it } from "vitest";
import { LiveRun } from "./liveRun.ts";
import { fleetList, type Opened, openVehicle } from "./openVehicle.ts";
import { runFileOf } from "./runFile.ts";

function opened(id: string): Opened {
  const result = openVehicle({ from: "fleet", id });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result;
}

function liveRun(vehicle: Opened): LiveRun {
  return new LiveRun(vehicle.assembly.model, vehicle.start, vehicle.info.traced, () => 0);
}

/** Plays a saved run as the command line would, with no page. */
function headlessHash(text: string): string {
  const loaded = loadRun(text, () => {
    throw new Error("the run names no file");
  });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  const { run } = loaded;
  const simulation = new Simulation(run.assembly.model, { start: run.start });
  for (const entry of run.entries) simulation.setControl(entry);
  expect(simulation.advanceTo(run.durationTicks).ok).toBe(true);
  return simulation.traceHash();
}

/** A person at the controls, with frames that come as unevenly as frames do. */
function drive(run: LiveRun, vehicle: Opened): void {
  const has = (id: string) => vehicle.info.controls.some((c) => c.id === id);
  const frames = [16, 17, 33, 8, 16, 250, 16, 5];
  for (let i = 0; i < 200; i += 1) {
    if (i === 20 && has("parking")) run.set("parking", 1);
    if (i === 20 && has("trailerSupply")) run.set("trailerSupply", 1);
    if (i === 60 && has("pedal")) run.set("pedal", 0.6);
    if (i === 66 && has("pedal")) run.set("pedal", 0.2);
    if (i === 120 && has("pedal")) run.set("pedal", 0);
    if (i === 130 && has("key")) run.set("key", 0);
    if (i === 140) run.setPace(10);
    const frame = run.frame(frames[i % frames.length]!, 1000);
    expect(frame.stopped).toBeNull();
  }
}

describe("a live run", () => {
  for (const { id } of fleetList()) {
    it(`gives the same trace hash as its saved run played headless: ${id}`, () => {
      const vehicle = opened(id);
      const run = liveRun(vehicle);
      drive(run, vehicle);
      expect(run.log.length).toBeGreaterThan(0);
      expect(headlessHash(runFileOf(vehicle, run).text)).toBe(run.traceHash());
    });
  }

  it("takes a vehicle of one's own into the run file", () => {
    const text = fleet[0]!.vehicle().replace('"Harrow Ridge', '"My own Harrow Ridge');
    const vehicle = openVehicle({ from: "file", name: "own.json", texts: [text] });
    if (!vehicle.ok) throw new Error("refused");
    const run = liveRun(vehicle);
    drive(run, vehicle);
    const saved = runFileOf(vehicle, run).text;
    expect(JSON.parse(saved).vehicle.inline.title).toContain("My own");
    expect(headlessHash(saved)).toBe(run.traceHash());
  });

  it("stands still when frozen, and goes on by single ticks", () => {
    const run = liveRun(opened(fleet[0]!.id));
    run.frame(50, 1000);
    run.setPace(0);
    const frozen = run.frame(16, 1000).tick;
    expect(run.frame(5000, 1000).tick).toBe(frozen);
    run.step();
    expect(run.frame(16, 1000).tick).toBe(frozen + 1);
  });

  it("does not jump after a page was away", () => {
    const run = liveRun(opened(fleet[0]!.id));
    const before = run.frame(16, 1000).tick;
    expect(run.frame(60_000, 1000).tick - before).toBeLessThanOrEqual(10);
  });

  it("stays continuous when a frame has no time left to compute", () => {
    const vehicle = opened(fleet[0]!.id);
    let ms = 0;
    const run = new LiveRun(vehicle.assembly.model, vehicle.start, vehicle.info.traced, () => (ms += 5));
    run.setPace(60);
    const first = run.frame(100, 1).tick;
    expect(first).toBeGreaterThan(0);
    expect(first).toBeLessThan(600);
    expect(run.frame(0, 1000).tick).toBe(first);
  });

  it("refuses a control that the vehicle has not, and a value out of range", () => {
    const run = liveRun(opened(fleet[0]!.id));
    expect(() => run.set("wings", 1)).toThrow(/no control/);
    expect(() => run.set("pedal", 2)).toThrow(/does not take/);
    expect(() => run.set("pedal", Number.NaN)).toThrow(/does not take/);
  });

  it("moves the pedal no faster than a foot", () => {
    const run = liveRun(opened(fleet[0]!.id));
    run.set("pedal", 1);
    run.frame(400, 1000);
    run.frame(400, 1000);
    run.frame(400, 1000);
    const pedal = run.log.filter((e) => e.control === "pedal");
    expect(pedal.length).toBe(20);
    expect(pedal.at(-1)!.value).toBe(1);
    for (let i = 1; i < pedal.length; i += 1) expect(pedal[i]!.tick).toBe(pedal[i - 1]!.tick + 1);
  });
});

describe("opening", () => {
  it("refuses two tractors and says what would be right", () => {
    const text = fleet.find((v) => v.kind === "tractor")!.vehicle();
    const result = openVehicle({ from: "file", name: "two", texts: [text, text] });
    expect(result.ok).toBe(false);
    if (!result.ok) expect(result.problems[0]!.remedy).toContain("one tractor and one trailer");
  });

  it("refuses what is no vehicle file with its place", () => {
    const result = openVehicle({ from: "file", name: "x", texts: ["{"] });
    expect(result.ok).toBe(false);
    if (!result.ok) expect(result.problems[0]!.path).toContain("line 1");
  });

  it("finds every vehicle of the fleet a little above cut-in, at rest but for the compressor", () => {
    const vehicle = opened(fleet[0]!.id);
    const frame = liveRun(vehicle).frame(16, 1000);
    const at = (id: string) => frame.values[vehicle.info.channels.findIndex((c) => c.id === id)]!;
    expect(at("gauge.primary")).toBeGreaterThan(5.5e5);
    expect(at("engine.speed")).toBeGreaterThan(400);
    expect(at("control.parking")).toBe(0);
  });
});
