import path from "node:path";
import { setImmediate } from "node:timers/promises";
import { Simulation } from "@brakeyard/engine";
import { loadRun, type PreparedRun } from "@brakeyard/vehicle";
import { onlyPositional, readArguments } from "./arguments.ts";
import { complain, Progress, say } from "./console.ts";
import { readInput, readTextFile, sameFile, WholeFile } from "./files.ts";
import { badInput, EXIT, type ExitCode, Stop } from "./outcome.ts";
import { problemLines } from "./problems.ts";
import { csvWriter, jsonWriter, type RunEvent, type TraceWriter, writtenTime } from "./trace.ts";

const USAGE = "brakeyard run RUN.json --out trace.csv|.json";
/** Events beyond this many are counted and not printed; the JSON trace has all of them. */
const MOST_EVENTS = 60;
/** Longest time the engine works before progress is shown and a signal such as Ctrl+C is heard, ms. */
const BREATH_MS = 100;

/** `brakeyard run`: a run file to a trace. */
export async function runCommand(args: readonly string[]): Promise<ExitCode> {
  const { values, positionals } = readArguments(args, { out: { type: "string" } });
  const file = onlyPositional(positionals, USAGE);
  const out = wantedOut(values.out, file);
  const run = prepared(file, out);
  const whole = new WholeFile(out);
  try {
    const writer = out.toLowerCase().endsWith(".csv") ? csvWriter(whole) : jsonWriter(whole);
    const { simulation, events } = await perform(run, writer);
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

function prepared(file: string, out: string): PreparedRun {
  const folder = path.dirname(path.resolve(file));
  const vehicles: string[] = [];
  const loaded = loadRun(readInput(file), (named) => {
    vehicles.push(path.resolve(folder, named));
    return readTextFile(path.resolve(folder, named));
  });
  if (!loaded.ok) throw new Stop(problemLines(file, loaded.problems), EXIT.badInput);
  if (vehicles.some((vehicle) => sameFile(out, vehicle)))
    throw badInput(`--out ${out}`, "this is a vehicle file of the run", "Give the trace another name");
  for (const note of loaded.notes) complain(`note: ${note}`);
  return loaded.run;
}

/** The run's simulation before its first step, with everything in it that will be done to it. */
function simulationOf({ assembly, start, tolerance, entries }: PreparedRun): Simulation {
  const simulation = new Simulation(assembly.model, { start, ...(tolerance === undefined ? {} : { tolerance }) });
  for (const entry of entries) simulation.setControl(entry);
  return simulation;
}

async function perform(run: PreparedRun, writer: TraceWriter): Promise<{ simulation: Simulation; events: RunEvent[] }> {
  const { durationTicks, sampleTicks, channels } = run;
  const simulation = simulationOf(run);
  const sample = new Float64Array(run.assembly.model.channels.length);
  const events: RunEvent[] = [];
  const progress = new Progress(run.title);
  let breath = performance.now();
  writer.begin(run);
  for (let tick = 0; tick <= durationTicks; tick += sampleTicks) {
    advance(simulation, tick);
    simulation.sample(tick, sample);
    const values = channels.map((channel) => sample[channel.index]!);
    writer.row(writtenTime(tick), values);
    if (performance.now() - breath < BREATH_MS) continue;
    events.push(...simulation.takeEvents());
    progress.at(tick / durationTicks);
    await setImmediate();
    breath = performance.now();
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
  for (const event of events.slice(0, MOST_EVENTS)) say(`${event.timeS.toFixed(2).padStart(9)} s  ${event.text}`);
  if (events.length > MOST_EVENTS)
    say(`          and ${events.length - MOST_EVENTS} more; a trace in JSON has them all`);
  const { mass, relativeError } = simulation.balance();
  say(
    `air: ${grams(mass.start)} at the start, ${grams(mass.in)} in, ${grams(mass.out)} out, ${grams(mass.now)} at the end`,
  );
  say(`balance of mass and energy: relative error ${relativeError.toExponential(1)}`);
  const { steps, rejected, events: changes } = simulation.statistics();
  say(`steps: ${steps}, and ${rejected} thrown away; ${changes} events`);
  say(`fingerprint: ${simulation.traceHash()}`);
}

function grams(kg: number): string {
  return `${(kg * 1000).toFixed(1)} g`;
}
