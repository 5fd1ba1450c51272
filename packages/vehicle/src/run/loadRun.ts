import type { ControlEntry, StartState } from "@brakeyard/engine";
import { type Assembly, assemble, type Subject } from "../assemble/assemble.ts";
import { AssemblyError } from "../assemble/options.ts";
import { migrate, runMigrations } from "../migrations/index.ts";
import { issuesInWords } from "../schema/build.ts";
import { type Loaded, type PathParts, type Problem, problem } from "../text/problem.ts";
import { checkHead, readText } from "../text/readText.ts";
import { channelsOf, type RunChannel } from "./channels.ts";
import { controlEntries } from "./controlEntries.ts";
import { faultSpecs } from "./faultSpecs.ts";
import { RUN_FORMAT, RUN_VERSION, type RunFile, runSchema } from "./runSchema.ts";
import { freeStrokes, surroundingsOf } from "./settings.ts";
import { runStart } from "./startOf.ts";
import { type ResolveFile, subjectOf } from "./subject.ts";
import { TICKS_PER_S, wholeTicks } from "./time.ts";

/** A run that can be handed to the engine as it is. */
export interface PreparedRun {
  readonly file: RunFile;
  readonly title: string;
  readonly assembly: Assembly;
  readonly start: StartState;
  /** Controls and onsets of faults, in the order of their ticks. */
  readonly entries: readonly ControlEntry[];
  readonly channels: readonly RunChannel[];
  readonly durationTicks: number;
  readonly sampleTicks: number;
  readonly tolerance: number | undefined;
}

/** Most rows a run may write. */
export const MOST_SAMPLES = 2_000_000;

/**
 * Reads a run file and prepares the run: finds the vehicle, puts it together with its faults, turns the controls into ticks.
 * Accepts it whole or refuses it with everything found wrong.
 *
 * @param text the file's content
 * @param resolve gives the text of a vehicle file named in the run, or throws an Error that says why not
 */
export function loadRun(text: string, resolve: ResolveFile): Loaded<"run", PreparedRun> {
  const read = readText(text);
  if (!read.ok) return read;
  const head = checkHead(read.raw, RUN_FORMAT, RUN_VERSION);
  if (head.length > 0) return { ok: false, problems: head };
  const migrated = migrate(read.raw, runMigrations, RUN_VERSION);
  const parsed = runSchema.safeParse(migrated.raw, { reportInput: true, jitless: true });
  if (!parsed.success) return { ok: false, problems: issuesInWords(parsed.error.issues) };
  const found = subjectOf(parsed.data, resolve);
  if (!found.ok) return found;
  return prepare(parsed.data, found.subject, [...migrated.notes, ...found.notes]);
}

function prepare(file: RunFile, subject: Subject, notes: readonly string[]): Loaded<"run", PreparedRun> {
  const { specs, problems } = faultSpecs(file.faults ?? []);
  problems.push(...checkTimes(file));
  const surroundings = surroundingsOf(file);
  if ("path" in surroundings) problems.push(surroundings);
  if (problems.length > 0 || "path" in surroundings) return { ok: false, problems };
  const options = {
    surroundings,
    isothermal: file.isothermal ?? false,
    faults: specs,
    freeStrokesM: freeStrokes(file),
  };
  try {
    return complete(file, assemble(subject, options), notes);
  } catch (error) {
    if (error instanceof AssemblyError) return { ok: false, problems: [placed(file, error)] };
    throw error;
  }
}

function complete(file: RunFile, assembly: Assembly, notes: readonly string[]): Loaded<"run", PreparedRun> {
  const controls = controlEntries(file.controls ?? [], assembly);
  const start = runStart(file, assembly);
  const channels = channelsOf(file.channels ?? "readings", assembly.model);
  const problems = [...controls.problems, ...start.problems, ...channels.problems];
  if (problems.length > 0) return { ok: false, problems };
  const entries = [...onsets(file, assembly), ...controls.entries].sort((a, b) => a.tick - b.tick);
  const run: PreparedRun = {
    file,
    title: file.title ?? "Run",
    assembly,
    start: start.state,
    entries,
    channels: channels.channels,
    durationTicks: durationTicks(file),
    sampleTicks: sampleTicks(file),
    tolerance: file.tolerance,
  };
  return { ok: true, run, notes };
}

function durationTicks(file: RunFile): number {
  return file.durationTicks ?? wholeTicks(file.durationS ?? 0) ?? 0;
}

function sampleTicks(file: RunFile): number {
  return wholeTicks(file.sampleEveryS ?? 0.1) ?? 1;
}

function checkTimes(file: RunFile): Problem[] {
  const remedy = "write durationS (seconds) or durationTicks";
  const given = [file.durationS, file.durationTicks].filter((one) => one !== undefined).length;
  if (given !== 1) return [problem(["durationS"], given === 0 ? "missing" : "the duration is given twice", remedy)];
  const rows = durationTicks(file) / sampleTicks(file);
  if (rows <= MOST_SAMPLES) return [];
  const message = `${Math.floor(rows)} rows are more than ${MOST_SAMPLES}`;
  return [
    problem(
      ["sampleEveryS"],
      message,
      `write at least ${durationTicks(file) / MOST_SAMPLES / TICKS_PER_S} s, or a shorter run`,
    ),
  ];
}

/** Each fault comes on by its control at its tick. */
function onsets(file: RunFile, assembly: Assembly): ControlEntry[] {
  return assembly.faults.map((handle) => {
    const fault = file.faults?.find((one) => one.name === handle.name);
    const tick = fault?.onsetTick ?? wholeTicks(fault?.onsetS ?? 0) ?? 0;
    return { tick, control: handle.control, value: handle.value * (fault?.severity ?? 1) };
  });
}

/** Where in the file the thing stands that the assembly refused. */
function placed(file: RunFile, error: AssemblyError): Problem {
  const index = (file.faults ?? []).findIndex((fault) => fault.name === error.subject);
  if (index >= 0) {
    const key = file.faults?.[index]?.where === undefined ? "fault" : "where";
    return problem(["faults", index, key], error.message, error.remedy);
  }
  const path: PathParts = file.start?.freeStrokes?.[error.subject]
    ? ["start", "freeStrokes", error.subject]
    : [unitKey(file)];
  return problem(path, error.message, error.remedy);
}

function unitKey(file: RunFile): string {
  if (file.vehicle) return "vehicle";
  return file.tractor ? "tractor" : "trailer";
}
