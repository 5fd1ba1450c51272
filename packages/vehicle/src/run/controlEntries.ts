import type { ControlEntry, EngineModel } from "@brakeyard/engine";
import { hasUnit, toSi } from "@brakeyard/units";
import type { Assembly } from "../assemble/assemble.ts";
import { oneOf, type PathParts, type Problem, problem, shown } from "../text/problem.ts";
import type { BareQuantity } from "../values/stored.ts";
import type { ControlFile, ControlValue } from "./runSchema.ts";
import { TICKS_PER_S, wholeTicks } from "./time.ts";

type ControlSpec = EngineModel["controls"][number];

/** Control entries for the engine, in the order of their ticks; or what is wrong. */
export function controlEntries(
  given: readonly ControlFile[],
  assembly: Assembly,
): { entries: ControlEntry[]; problems: Problem[] } {
  const problems: Problem[] = [];
  const entries: ControlEntry[] = [];
  const runs = new Map<string, { value: number; until: number }>();
  for (const { file, index } of inOrder(given)) {
    const read = readEntry(file, ["controls", index], assembly, runs);
    if ("problems" in read) problems.push(...read.problems);
    else entries.push(...read.entries);
  }
  return { entries: entries.sort((a, b) => a.tick - b.tick), problems };
}

function inOrder(given: readonly ControlFile[]): { file: ControlFile; index: number }[] {
  return given
    .map((file, index) => ({ file, index }))
    .sort((a, b) => tickOf(a.file) - tickOf(b.file) || a.index - b.index);
}

function tickOf(file: { atS?: number | undefined; atTick?: number | undefined }): number {
  return file.atTick ?? wholeTicks(file.atS ?? 0) ?? 0;
}

type Read = { entries: ControlEntry[] } | { problems: Problem[] };

function readEntry(
  file: ControlFile,
  path: PathParts,
  assembly: Assembly,
  runs: Map<string, { value: number; until: number }>,
): Read {
  const spec = assembly.model.controls.find((control) => control.id === file.control);
  if (!spec)
    return refuse([...path, "control"], `this vehicle has no control "${file.control}"`, controlRemedy(assembly));
  if ((file.atS === undefined) === (file.atTick === undefined)) {
    return refuse(
      [...path, "atS"],
      file.atS === undefined ? "the time is missing" : "the time is given twice",
      "write atS or atTick",
    );
  }
  const value = controlValue(file.value, spec, assembly, [...path, "value"]);
  if (typeof value !== "number") return { problems: [value] };
  const before = runs.get(spec.id) ?? { value: spec.initial, until: 0 };
  const tick = tickOf(file);
  if (tick < before.until)
    return refuse([...path, "atS"], "the entry before still moves this control", "start after it has arrived");
  const length = file.overS === undefined ? 1 : Math.floor(file.overS * TICKS_PER_S + 0.5);
  if (file.overS !== undefined && spec.kind !== "ramp") {
    return refuse([...path, "overS"], `${spec.id} jumps; it cannot move over a time`, "remove overS");
  }
  runs.set(spec.id, { value, until: file.overS === undefined ? tick : tick + length });
  return { entries: spread(spec.id, tick, length, before.value, value) };
}

function controlRemedy(assembly: Assembly): string {
  return `it has ${assembly.model.controls.map((control) => control.id).join(", ")}`;
}

function refuse(path: PathParts, message: string, remedy: string): Read {
  return { problems: [problem(path, message, remedy)] };
}

/** A straight movement as one entry a tick; each is reached one tick later. */
function spread(control: string, tick: number, length: number, from: number, to: number): ControlEntry[] {
  return Array.from({ length }, (_, i) => ({
    tick: tick + i,
    control,
    value: i === length - 1 ? to : from + ((to - from) * (i + 1)) / length,
  }));
}

/** Words for values of a control, by the beginning of its name. */
const WORDS: readonly [begins: RegExp, words: Readonly<Record<string, number>>][] = [
  [/^(pedal|handValve)$/, { off: 0, full: 1 }],
  [/^(parking|trailerSupply)$/, { out: 0, in: 1 }],
  [/^chocks$/, { away: 0, placed: 1 }],
  [/^drain\./, { shut: 0, open: 1 }],
  [/^cock\./, { open: 0, shut: 1 }],
  [/^coupling\.crossed$/, { straight: 0, crossed: 1 }],
  [/^coupling\./, { coupled: 0, parted: 1 }],
  [/^throttle$/, {}],
  [/./, { off: 0, on: 1 }],
];

function wordsFor(spec: ControlSpec, assembly: Assembly): Readonly<Record<string, number>> {
  if (spec.id === "throttle" && assembly.speedsRpm) return speedWords(assembly.speedsRpm);
  return WORDS.find(([begins]) => begins.test(spec.id))?.[1] ?? {};
}

/** Engine speeds by name. */
export function speedWords(speeds: NonNullable<Assembly["speedsRpm"]>): Record<string, number> {
  return {
    idle: speeds.idle,
    fastIdle: speeds.fastIdle,
    governed: speeds.governed,
    maximum: speeds.maximumRecommended,
  };
}

function controlValue(given: ControlValue, spec: ControlSpec, assembly: Assembly, path: PathParts): number | Problem {
  const words = wordsFor(spec, assembly);
  const names = Object.keys(words).map((word) => `"${word}"`);
  const remedy = `write ${oneOf([`a number from ${spec.minimum} to ${spec.maximum}`, ...names])}`;
  if (typeof given === "string")
    return words[given] ?? problem(path, `${shown(given)} means nothing to ${spec.id}`, remedy);
  const value = typeof given === "number" ? given : withUnit(given, spec);
  if (value === null)
    return problem([...path, "unit"], `${spec.id} takes no value in ${shown((given as BareQuantity).unit)}`, remedy);
  if (value >= spec.minimum && value <= spec.maximum) return value;
  return problem(path, `${value} is out of range for ${spec.id}`, remedy);
}

/** Engine speed in rpm; pedal and hand valve by the pressure they deliver. Null for a unit the control does not take. */
function withUnit(given: BareQuantity, spec: ControlSpec): number | null {
  if (spec.unit === "rpm") return given.unit === "rpm" ? given.value : null;
  const curve = spec.kind === "ramp" ? spec.curves?.[0] : undefined;
  if (!curve || !hasUnit("pressure", given.unit)) return null;
  return travelFor(curve, toSi("pressure", given.value, given.unit));
}

/** Travel at which a graduated valve asks for a pressure. Half the valve's hysteresis less than asked for arrives. */
function travelFor(
  curve: { readonly at: readonly number[]; readonly gives: readonly number[] },
  pressurePa: number,
): number {
  const { at, gives } = curve;
  for (let i = 1; i < at.length; i++) {
    const [low, high, from, to] = [gives[i - 1], gives[i], at[i - 1], at[i]] as [number, number, number, number];
    if (pressurePa <= high) return pressurePa <= low ? from : from + ((to - from) * (pressurePa - low)) / (high - low);
  }
  return Number.NaN;
}
