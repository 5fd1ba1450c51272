import path from "node:path";
import { Simulation } from "@brakeyard/engine";
import { loadRun, type PreparedRun } from "@brakeyard/vehicle";
import { onlyPositional, readArguments } from "./arguments.ts";
import { complain, Progress, say } from "./console.ts";
import { readInput, readTextFile, sameFile, WholeFile } from "./files.ts";
import { badInput, EXIT, type ExitCode, Stop } from "./outcome.ts";
import { problemLines } from "./problems.ts";
import { csvWriter, jsonWriter, type RunEvent, type TraceWriter, writtenTime } from "./trace.ts";

const USAGE = "brakeyard run RUN.json --out trace.csv|.json";
/** The engine is let run this many rows before progress is shown and events are gathered. */
const ROWS_AT_A_TIME = 200;

/** `brakeyard run`: a run file to a trace. */
export function runCommand(args: readonly string[]): ExitCode {
  const { values, positionals } = readArguments(args, { out: { type: "string" } });
  const file = onlyPositional(positionals, USAGE);
  const out = wantedOut(values.out, file);
  const run = prepared(file);
  const whole = new WholeFile(out);
  try {
    const { simulation, events } = perform(
      run,
      out.toLowerCase().endsWith(".csv") ? csvWriter(whole) : jsonWriter(whole),
    );
    whole.finish();
    report(run, simulation, events, out);
  } finally {
    whole.abandon();
  }
  return EXIT.ok;
}

function wantedOut(out: string | undefined, runFile: string): string {
  if (out === undefined) throw new Stop([`where shall the trace go? Write: ${USAGE}`], EXIT.badInput);
  if (!/\.(csv|json)$/i.test(out)) throw badInput(`--out ${out}`, "its name says no format", "End it in .csv or .json");
  if (sameFile(out, runFile))
    throw badInput(`--out ${out}`, "this is the run file itself", "Give the trace another name");
  return out;
}

function prepared(file: string): PreparedRun {
  const folder = path.dirname(path.resolve(file));
  const loaded = loadRun(readInput(file), (named) => readTextFile(path.resolve(folder, named)));
  if (!loaded.ok) throw new Stop(problemLines(file, loaded.problems), EXIT.badInput);
  for (const note of loaded.notes) complain(`note: ${note}`);
  return loaded.run;
}

function perform(run: PreparedRun, writer: TraceWriter): { simulation: Simulation; events: RunEvent[] } {
  const { start, tolerance, durationTicks, sampleTicks } = run;
  const simulation = new Simulation(run.assembly.model, { start, ...(tolerance === undefined ? {} : { tolerance }) });
  for (const entry of run.entries) simulation.setControl(entry);
  const sample = new Float64Array(run.assembly.model.channels.length);
  const events: RunEvent[] = [];
  const progress = new Progress(run.title);
  writer.begin(run);
  for (let tick = 0, row = 0; tick <= durationTicks; tick += sampleTicks, row += 1) {
    advance(simulation, tick);
    simulation.sample(tick, sample);
    writer.row(
      writtenTime(tick),
      run.channels.map((channel) => sample[channel.index]!),
    );
    if (row % ROWS_AT_A_TIME !== 0) continue;
    events.push(...simulation.takeEvents());
    progress.at(tick / durationTicks);
  }
  advance(simulation, durationTicks);
  events.push(...simulation.takeEvents());
  writer.end(simulation, events);
  progress.done();
  return { simulation, events };
}

function advance(simulation: Simulation, tick: number): void {
  const status = simulation.advanceTo(tick);
  if (status.ok) return;
  const until = `it stood at ${writtenTime(simulation.tick)} s; no trace was written`;
  throw new Stop([`the run could not go on: ${status.message} (${until})`], EXIT.failed);
}

function report(run: PreparedRun, simulation: Simulation, events: readonly RunEvent[], out: string): void {
  say(`${run.title}: ${writtenTime(run.durationTicks)} s, ${run.channels.length} channels, written to ${out}`);
  for (const event of events) say(`${event.timeS.toFixed(2).padStart(9)} s  ${event.text}`);
  const { mass, relativeError } = simulation.balance();
  say(
    `air: ${grams(mass.start)} at the start, ${grams(mass.in)} in, ${grams(mass.out)} out, ${grams(mass.now)} at the end`,
  );
  say(`balance of mass and energy: relative error ${relativeError.toExponential(1)}`);
  say(`fingerprint: ${simulation.traceHash()}`);
}

function grams(kg: number): string {
  return `${(kg * 1000).toFixed(1)} g`;
}
