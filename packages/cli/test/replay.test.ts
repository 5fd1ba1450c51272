import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { type ControlEntry, Simulation } from "@brakeyard/engine";
import { SeededDraws } from "@brakeyard/units";
import { loadRun, type PreparedRun } from "@brakeyard/vehicle";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { brakeyardIn, requireBuilt } from "./program.ts";

vi.setConfig({ testTimeout: 60_000 });
beforeAll(requireBuilt);

const folder = mkdtempSync(path.join(tmpdir(), "brakeyard-replay-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** How a yard stands when it is opened, as a run file says it. */
const YARDS: readonly (readonly [title: string, run: object])[] = [
  ["bus", { vehicle: { fleet: "harrow-ridge-12" }, start: start({ engine: "idle" }) }],
  ["electric bus", { vehicle: { fleet: "harrow-ridge-electric" }, start: start({ key: "on" }) }],
  [
    "ten brakes",
    {
      tractor: { fleet: "harrow-ridge-tractor" },
      trailer: { fleet: "harrow-ridge-semi" },
      start: start({ engine: "idle", trailerSupply: "in" }),
    },
  ],
];

function start(more: object): object {
  return { otherTanks: { value: 105, unit: "psi" }, parking: "in", ...more };
}

function prepared(run: object): PreparedRun {
  const text = JSON.stringify({ format: "brakeyard-run", version: 1, durationS: 1, ...run });
  const loaded = loadRun(text, () => {
    throw new Error("no files here");
  });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  return loaded.run;
}

/**
 * Somebody at the controls for a while, as a page hears it: time comes in small pieces of uneven length, and what a hand does takes effect at
 * the tick after the one that has been reached.
 */
function live(yard: PreparedRun, seed: string): { log: ControlEntry[]; ticks: number; hash: string } {
  const draws = new SeededDraws(seed);
  const { model } = yard.assembly;
  // A short run is quicker without written-out code, and the page may forbid it; the program writes it out.
  const run = new Simulation(model, { start: yard.start, straightLine: false });
  const log: ControlEntry[] = [];
  const pedal = { at: 0, target: 0 };
  const enter = (control: string, value: number): void => {
    const entry = { tick: run.tick + 1, control, value };
    run.setControl(entry);
    log.push(entry);
  };
  while (run.tick < 2000) {
    if (draws.below(40) === 0) pedal.target = draws.pick([0, 0.3, 1]);
    if (draws.below(150) === 0) enter("parking", draws.below(2));
    if (draws.below(200) === 0) enter("drain.primary", draws.below(2));
    const moving = pedal.at !== pedal.target;
    if (moving) {
      const left = pedal.target - pedal.at;
      pedal.at = Math.abs(left) <= 0.05 ? pedal.target : pedal.at + Math.sign(left) * 0.05;
      enter("pedal", pedal.at);
    }
    const status = run.advanceTo(run.tick + (moving ? 1 : 1 + draws.below(5)));
    if (!status.ok) throw new Error(status.message);
    if (draws.below(3) === 0) run.sample();
  }
  return { log, ticks: run.tick, hash: run.traceHash() };
}

describe("a live run, saved as a run file and run again without a page", () => {
  it.each(YARDS)("%s: the same fingerprint", (title, run) => {
    const { log, ticks, hash } = live(prepared(run), title);
    const controls = log.map(({ tick, control, value }) => ({ atTick: tick, control, value }));
    const file = { format: "brakeyard-run", version: 1, ...run, controls, durationTicks: ticks, sampleEveryS: 0.1 };
    writeFileSync(path.join(folder, "run.json"), JSON.stringify(file));
    expect(brakeyardIn(folder, "run", "run.json", "--out", "trace.json")).toMatchObject({ status: 0 });
    const trace = JSON.parse(readFileSync(path.join(folder, "trace.json"), "utf8"));
    expect(log.length).toBeGreaterThan(50);
    expect(trace.fingerprint).toBe(hash);
  });
});
