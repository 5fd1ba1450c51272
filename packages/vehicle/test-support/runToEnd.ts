import { type EngineEvent, Simulation } from "@brakeyard/engine";
import { loadRun, type PreparedRun } from "../src/index.ts";

/** A finished run: columns by channel at the sampled times, and what happened. */
export interface Finished {
  readonly run: PreparedRun;
  readonly timesS: readonly number[];
  readonly events: readonly EngineEvent[];
  readonly simulation: Simulation;
  column(channel: string): readonly number[];
  last(channel: string): number;
}

/**
 * Loads and runs a run file given as an object.
 * @throws Error when it is refused or does not reach its end
 */
export function runToEnd(file: unknown): Finished {
  const loaded = loadRun(JSON.stringify(file), () => {
    throw new Error("no files here");
  });
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems, null, 1));
  return finish(loaded.run);
}

/** Runs a prepared run. */
export function finish(run: PreparedRun): Finished {
  const options = { start: run.start, ...(run.tolerance !== undefined && { tolerance: run.tolerance }) };
  const simulation = new Simulation(run.assembly.model, options);
  for (const entry of run.entries) simulation.setControl(entry);
  const rows: number[][] = [];
  const timesS: number[] = [];
  const events: EngineEvent[] = [];
  for (let tick = 0; tick <= run.durationTicks; tick += run.sampleTicks) {
    const status = simulation.advanceTo(tick);
    if (!status.ok) throw new Error(status.message);
    events.push(...simulation.takeEvents());
    const values = simulation.sample(tick);
    rows.push(run.channels.map((channel) => values[channel.index] as number));
    timesS.push(tick / 100);
  }
  return { run, timesS, events, simulation, ...columns(run, rows) };
}

function columns(run: PreparedRun, rows: readonly (readonly number[])[]) {
  const place = (channel: string): number => {
    const found = run.channels.findIndex((one) => one.id === channel);
    if (found < 0) throw new Error(`no channel ${channel}`);
    return found;
  };
  const column = (channel: string) => rows.map((row) => row[place(channel)] as number);
  return { column, last: (channel: string) => column(channel).at(-1) as number };
}
