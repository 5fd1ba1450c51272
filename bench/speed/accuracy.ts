import { Simulation, tickTimeS } from "@brakeyard/engine";
import { advance } from "./product.ts";
import { type ModeEvent, RungeKutta } from "./rungeKutta.ts";
import type { Session } from "./session.ts";
import type { BenchSubject } from "./subjects.ts";

/** Tolerance of the run that others are held against: a ten-thousandth of what they may be off. */
const REFERENCE_TOLERANCE = 1e-9;
/** Pressures are not compared this near to an event of the reference, s: a shift of the event itself is judged by its time. */
const NEAR_EVENT_S = 0.05;
/** Ticks between two looks where nothing moves, and after a control has moved. */
const QUIET_TICKS = 50;
const LIVELY_TICKS = 5;
/** How long after a control has moved the looks stay close, ticks. */
const LIVELY_FOR_TICKS = 150;

/** What a method is held against: every pressure at many instants, and every change of a mode. */
export interface Reference {
  readonly session: Session;
  readonly ticks: readonly number[];
  /** Absolute pressures of all nodes, one row per tick looked at, Pa. */
  readonly rows: readonly Float64Array[];
  readonly events: readonly ModeEvent[];
}

export interface Errors {
  /** Largest relative error of an absolute pressure; infinite when the method left the physical range. */
  readonly pressure: number;
  /** Largest error of an event, s; infinite when the events are not the same. */
  readonly eventS: number;
}

/** Ticks at which pressures are compared: close together where a control has just moved. */
export function looks(session: Session): number[] {
  const ticks: number[] = [];
  let entry = 0;
  let moved = Number.NEGATIVE_INFINITY;
  for (let tick = LIVELY_TICKS; tick <= session.ticks; tick += LIVELY_TICKS) {
    while (entry < session.log.length && session.log[entry]!.tick < tick) moved = session.log[entry++]!.tick;
    if (tick - moved <= LIVELY_FOR_TICKS || tick % QUIET_TICKS === 0) ticks.push(tick);
  }
  return ticks;
}

function pressureChannels(subject: BenchSubject): number[] {
  const at = subject.model.nodes.map((_, node) =>
    subject.model.channels.findIndex((c) => c.source.of === "gaugePressure" && c.source.node === node),
  );
  if (at.includes(-1)) throw new Error("a node of the bench vehicle has no pressure channel");
  return at;
}

/** Runs the product at a tolerance and keeps what is compared. */
export function recordProduct(subject: BenchSubject, session: Session, tolerance?: number): Reference {
  const { model, plan } = subject;
  const options = { plan, start: session.start, ...(tolerance === undefined ? {} : { tolerance }) };
  const run = new Simulation(model, options);
  for (const entry of session.log) run.setControl(entry);
  const ticks = looks(session);
  const channels = pressureChannels(subject);
  const all = new Float64Array(model.channels.length);
  const rows = ticks.map((tick) => {
    advance(run, tick);
    run.sample(tick, all);
    return Float64Array.from(channels, (c) => all[c]! + model.atmosphere.pressurePa);
  });
  advance(run, session.ticks);
  const modes = new Set(model.modes.map((m) => m.id));
  return { session, ticks, rows, events: run.takeEvents().filter((e) => modes.has(e.id)) };
}

export function reference(subject: BenchSubject, session: Session): Reference {
  return recordProduct(subject, session, REFERENCE_TOLERANCE);
}

/** Holds a recorded run against the reference. */
export function errorsOf(got: Reference, wanted: Reference): Errors {
  const quiet = quietLooks(wanted);
  let pressure = 0;
  got.rows.forEach((row, i) => {
    if (quiet[i]) pressure = Math.max(pressure, rowError(row, wanted.rows[i]!));
  });
  return { pressure, eventS: eventError(got.events, wanted.events) };
}

/** Runs plain Runge-Kutta over the session, and gives up as soon as it is worse than `limit`. */
export function errorsOfRungeKutta(
  subject: BenchSubject,
  wanted: Reference,
  stepsPerTick: number,
  limit: number,
): Errors {
  const bad = { pressure: Number.POSITIVE_INFINITY, eventS: Number.POSITIVE_INFINITY };
  const quiet = quietLooks(wanted);
  const run = new RungeKutta(subject, wanted.session, stepsPerTick);
  let pressure = 0;
  for (let i = 0; i < wanted.ticks.length; i++) {
    if (!run.advanceTo(wanted.ticks[i]!)) return bad;
    if (quiet[i]) pressure = Math.max(pressure, rowError(run.x, wanted.rows[i]!));
    if (!(pressure <= limit)) return { ...bad, pressure };
  }
  if (!run.advanceTo(wanted.session.ticks)) return bad;
  return { pressure, eventS: eventError(run.events, wanted.events) };
}

/** Which looks are far enough from every event. */
function quietLooks({ ticks, events }: Reference): boolean[] {
  return ticks.map((tick) => !events.some((e) => Math.abs(e.timeS - tickTimeS(tick)) < NEAR_EVENT_S));
}

/** Largest relative error of one row; NaN counts as infinite. */
export function rowError(row: Float64Array, wanted: Float64Array): number {
  let worst = 0;
  for (let i = 0; i < wanted.length; i++) {
    const error = Math.abs(row[i]! / wanted[i]! - 1);
    if (!(error <= worst)) worst = Number.isNaN(error) ? Number.POSITIVE_INFINITY : error;
  }
  return worst;
}

/** Events are compared mode by mode, in order: two that fall together may be told in either order. */
export function eventError(got: readonly ModeEvent[], wanted: readonly ModeEvent[]): number {
  if (got.length !== wanted.length) return Number.POSITIVE_INFINITY;
  let worst = 0;
  for (const id of new Set(wanted.map((e) => e.id))) {
    const a = got.filter((e) => e.id === id);
    const b = wanted.filter((e) => e.id === id);
    if (a.length !== b.length || a.some((e, i) => e.on !== b[i]!.on)) return Number.POSITIVE_INFINITY;
    a.forEach((e, i) => {
      worst = Math.max(worst, Math.abs(e.timeS - b[i]!.timeS));
    });
  }
  return worst;
}
