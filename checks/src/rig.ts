import { type EngineEvent, type EngineModel, Simulation, type StartState, TICK_S } from "@brakeyard/engine";
import { toSi } from "@brakeyard/units";

/** One psi in Pa. */
export const PSI = toSi("pressure", 1, "psi");

export interface RigOptions {
  readonly start?: StartState;
  readonly tolerance?: number;
}

/** One value against time, seconds. */
export interface Trace {
  readonly timeS: readonly number[];
  readonly values: readonly number[];
}

/**
 * A vehicle or part of one on the bench: set controls, let time pass, read channels. Looks at every tick, 10 ms; times between ticks are
 * taken by straight lines, which is good to about 1 ms on the curves met here.
 */
export class Rig {
  readonly model: EngineModel;
  readonly run: Simulation;
  private readonly seen: EngineEvent[] = [];
  /** Whether time has passed since the channels were last read. */
  private stale = true;
  private readonly numbers: Map<string, number>;
  private readonly row: Float64Array<ArrayBuffer>;

  constructor(model: EngineModel, options: RigOptions = {}) {
    this.model = model;
    this.run = new Simulation(model, options);
    this.numbers = new Map(model.channels.map((c, i) => [c.id, i]));
    this.row = new Float64Array(model.channels.length);
  }

  get timeS(): number {
    return this.run.tick * TICK_S;
  }

  /** Everything that has happened so far, oldest first. */
  get events(): readonly EngineEvent[] {
    this.seen.push(...this.run.takeEvents());
    return this.seen;
  }

  /** A control takes its value now (a pedal reaches it one tick later). */
  set(control: string, value: number): this {
    this.run.setControl({ tick: this.run.tick, control, value });
    return this;
  }

  /** A control moves evenly to a value over some seconds, from `from`, starting now. Nothing else may move it meanwhile. */
  ramp(control: string, from: number, to: number, seconds: number): this {
    const ticks = Math.max(1, Math.round(seconds / TICK_S));
    for (let i = 1; i <= ticks; i++) {
      this.run.setControl({ tick: this.run.tick + i - 1, control, value: from + ((to - from) * i) / ticks });
    }
    return this;
  }

  /** Lets time pass. Throws when the run cannot go on. */
  wait(seconds: number): this {
    return this.advance(this.run.tick + Math.round(seconds / TICK_S));
  }

  private advance(tick: number): this {
    const status = this.run.advanceTo(tick);
    if (!status.ok) throw new Error(`the run stopped: ${status.message}`);
    this.stale = true;
    return this;
  }

  /** Value of a channel now, SI. Throws when the vehicle has no such channel. */
  value(channel: string): number {
    const i = this.numbers.get(channel);
    if (i === undefined) throw new Error(`this vehicle has no channel "${channel}"`);
    if (this.stale) this.run.sample(this.run.tick, this.row);
    this.stale = false;
    return this.row[i]!;
  }

  has(channel: string): boolean {
    return this.numbers.has(channel);
  }

  /** Gauge pressure of a node, psi. */
  psi(node: string): number {
    return this.value(`pressure.${node}`) / PSI;
  }

  /** Passes ticks until `done` says so or `longestS` has passed; says how long that took, NaN when it never came. */
  until(done: () => boolean, longestS: number, everyS = TICK_S): number {
    const from = this.timeS;
    while (!done()) {
      if (this.timeS - from >= longestS) return Number.NaN;
      this.wait(everyS);
    }
    return this.timeS - from;
  }

  /** Passes time tick by tick and keeps some channels. Time starts at zero, with the present values. */
  record<K extends string>(channels: readonly K[], seconds: number, everyS = TICK_S): Record<K, Trace> {
    const timeS: number[] = [0];
    const rows = channels.map((c) => [this.value(c)]);
    const from = this.timeS;
    while (this.timeS - from < seconds - 1e-9) {
      this.wait(everyS);
      timeS.push(this.timeS - from);
      channels.forEach((c, i) => {
        rows[i]!.push(this.value(c));
      });
    }
    const entries = channels.map((c, i): [K, Trace] => [c, { timeS, values: rows[i]! }]);
    return Object.fromEntries(entries) as unknown as Record<K, Trace>;
  }

  /** Time of the first event with this id and sense after `fromS`, s; NaN when there is none. */
  eventTime(id: string, on: boolean, fromS = 0): number {
    return this.events.find((e) => e.id === id && e.on === on && e.timeS >= fromS)?.timeS ?? Number.NaN;
  }
}

/** First time at which a trace is at or above a level; NaN when it never is. */
export function timeAbove({ timeS, values }: Trace, level: number): number {
  return crossing(timeS, values, (v) => v - level);
}

/** First time at which a trace is at or below a level; NaN when it never is. */
export function timeBelow({ timeS, values }: Trace, level: number): number {
  return crossing(timeS, values, (v) => level - v);
}

function crossing(timeS: readonly number[], values: readonly number[], past: (v: number) => number): number {
  for (let i = 0; i < values.length; i++) {
    const now = past(values[i]!);
    if (!(now >= 0)) continue;
    if (i === 0) return timeS[0]!;
    const before = past(values[i - 1]!);
    return timeS[i - 1]! + ((timeS[i]! - timeS[i - 1]!) * -before) / (now - before);
  }
  return Number.NaN;
}
