import type { EngineModel } from "@brakeyard/engine";
import { type ControlEntry, type EngineEvent, Simulation, type StartState } from "@brakeyard/engine";
import { TICKS_PER_SECOND } from "./contract.ts";

/** Longest piece of wall time that one frame may turn into model time: a page that was away does not jump. */
const LONGEST_FRAME_S = 0.1;
/** Rows of the trace are at least this many ticks apart at each pace. */
const ROW_TICKS: readonly [pace: number, ticks: number][] = [
  [1, 1],
  [10, 2],
  [Number.POSITIVE_INFINITY, 5],
];
/** A hand or foot moves a control at most this share of its range in one tick: full travel takes a fifth of a second. */
const HAND_PER_TICK = 0.05;
/** Ticks taken between two looks at the wall clock. */
const CHUNK_TICKS = 5;

export interface Frame {
  tick: number;
  values: Float64Array<ArrayBuffer>;
  rows: Float64Array<ArrayBuffer>;
  events: EngineEvent[];
  stopped: string | null;
}

/**
 * A run that follows the wall clock. Controls are stamped with the tick after the one reached, so that the same log
 * played without a page gives the same trace.
 */
export class LiveRun {
  readonly log: ControlEntry[] = [];
  private readonly simulation: Simulation;
  private readonly traced: readonly number[];
  private readonly row: Float64Array<ArrayBuffer>;
  private readonly now: () => number;
  private readonly pending = new Map<string, number>();
  /** Controls on their way to where they were put, with where they are. */
  private readonly moving = new Map<string, { at: number; target: number; step: number }>();
  private readonly standing = new Map<string, number>();
  private pace = 1;
  private owedTicks = 0;
  private nextRowTick = 0;
  private stopped: string | null = null;

  /** @param now wall clock in ms; it only limits how much one frame may compute */
  constructor(model: EngineModel, start: StartState, traced: readonly string[], now: () => number) {
    this.simulation = new Simulation(model, { start });
    for (const c of model.controls) this.standing.set(c.id, start.controls?.[c.id] ?? c.initial);
    this.traced = traced.map((id) => model.channels.findIndex((c) => c.id === id));
    this.row = new Float64Array(model.channels.length);
    this.now = now;
  }

  get tick(): number {
    return this.simulation.tick;
  }

  /**
   * Sets a control from the next tick on. One that moves in a ramp goes there at the speed of a hand. Of two settings
   * within one frame the later counts.
   */
  set(control: string, value: number): void {
    const spec = this.simulation.model.controls.find((c) => c.id === control);
    if (!spec) throw new RangeError(`this vehicle has no control "${control}"`);
    if (!(value >= spec.minimum && value <= spec.maximum))
      throw new RangeError(`control "${control}" does not take ${value}`);
    if (spec.kind !== "ramp") this.pending.set(control, value);
    else {
      const step = HAND_PER_TICK * (spec.maximum - spec.minimum);
      this.moving.set(control, { at: this.standing.get(control)!, target: value, step });
    }
  }

  setPace(pace: number): void {
    this.pace = pace;
    this.owedTicks = 0;
  }

  /** One tick on, whatever the pace. */
  step(): void {
    this.owedTicks = Math.max(1, this.owedTicks);
  }

  /** Turns wall time into ticks, as many as fit into `budgetMs` of computing. */
  frame(elapsedMs: number, budgetMs: number): Frame {
    const elapsedS = Math.min(Math.max(elapsedMs / 1000, 0), LONGEST_FRAME_S);
    this.owedTicks += elapsedS * this.pace * TICKS_PER_SECOND;
    const rows: number[] = [];
    this.run(budgetMs, rows);
    const values = new Float64Array(this.row.length);
    this.simulation.sample(this.tick, values);
    return {
      tick: this.tick,
      values,
      rows: Float64Array.from(rows),
      events: this.simulation.takeEvents(),
      stopped: this.stopped,
    };
  }

  /** Hash over every step taken, equal to that of the same log run without a page. */
  traceHash(): string {
    return this.simulation.traceHash();
  }

  private run(budgetMs: number, rows: number[]): void {
    const endMs = this.now() + budgetMs;
    while (this.owedTicks >= 1 && this.stopped === null) {
      this.stampControls();
      const ticks = this.moving.size > 0 ? 1 : Math.min(Math.floor(this.owedTicks), CHUNK_TICKS);
      this.advance(ticks, rows);
      this.owedTicks -= ticks;
      // Too slow for this pace: model time falls behind wall time and stays continuous.
      if (this.now() > endMs) this.owedTicks = Math.min(this.owedTicks, 1 - Number.EPSILON);
    }
  }

  private stampControls(): void {
    for (const [control, value] of this.pending) this.stamp(control, value);
    this.pending.clear();
    for (const [control, move] of this.moving) {
      const left = move.target - move.at;
      move.at = Math.abs(left) <= move.step ? move.target : move.at + Math.sign(left) * move.step;
      this.stamp(control, move.at);
      if (move.at === move.target) this.moving.delete(control);
    }
  }

  private stamp(control: string, value: number): void {
    const entry = { tick: this.tick + 1, control, value };
    this.simulation.setControl(entry);
    this.log.push(entry);
    this.standing.set(control, value);
  }

  private advance(ticks: number, rows: number[]): void {
    const spacing = ROW_TICKS.find(([pace]) => this.pace <= pace)![1];
    const goal = this.tick + ticks;
    while (this.tick < goal && this.stopped === null) {
      const next = Math.min(goal, Math.max(this.nextRowTick, this.tick + 1));
      const status = this.simulation.advanceTo(next);
      if (!status.ok) {
        this.stopped = status.message;
        return;
      }
      if (next >= this.nextRowTick) this.addRow(rows, spacing);
    }
  }

  private addRow(rows: number[], spacing: number): void {
    this.simulation.sample(this.tick, this.row);
    rows.push(this.tick);
    for (const index of this.traced) rows.push(index < 0 ? Number.NaN : this.row[index]!);
    this.nextRowTick = this.tick + spacing;
  }
}
