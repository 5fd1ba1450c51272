import { BitHash } from "@brakeyard/units";
import type { EngineModel } from "../model/model.ts";
import { tickTimeS } from "../time.ts";
import { type Balance, Ledger } from "./balance.ts";
import { Channels } from "./channels.ts";
import { type ControlEntry, Discrete, type ModeChange } from "./discrete.ts";
import { EVENT_TOLERANCE, firstRise, mixWithin, rootBetween } from "./events.ts";
import { type FlatMix, flattenMix } from "./flatMix.ts";
import { makePlan, type Plan } from "./plan.ts";
import { type StartState, startValues } from "./start.ts";
import { Stepper } from "./stepper.ts";
import { System } from "./system.ts";

export interface EngineEvent {
  readonly timeS: number;
  readonly id: string;
  readonly on: boolean;
  readonly text: string;
}

export type RunStatus = { readonly ok: true } | { readonly ok: false; readonly tick: number; readonly message: string };

export interface Statistics {
  readonly steps: number;
  readonly rejected: number;
  readonly evaluations: number;
  readonly factorizations: number;
  readonly events: number;
}

export interface SimulationOptions {
  readonly start?: StartState;
  /** Relative error allowed per step, of every pressure and mass. Default {@link DEFAULT_TOLERANCE}. */
  readonly tolerance?: number;
  /** A plan made from the same model by {@link makePlan}, to share its set-up among runs. */
  readonly plan?: Plan;
  /** False loops over tables instead of running straight-line code: the same bits, several times slower. */
  readonly straightLine?: boolean;
}

/** Keeps pressures within 0.1 % and events within 2 ms of the exact solution of the same equations (docs/proof.md). */
export const DEFAULT_TOLERANCE = 2e-5;
const FIRST_STEP_S = 1e-3;
const SMALLEST_STEP_S = 1e-10;
/** Longest step, so that a quiet run still meets its displays. */
const LONGEST_STEP_S = 600;
const GROWTH = 5;
const SHRINK = 0.2;
const SAFETY = 0.9;
const EVENT_TRIES = 6;

interface Watch {
  readonly id: string;
  readonly mix: FlatMix;
  readonly falling: FlatMix;
  readonly risingText: string;
  readonly fallingText: string;
}

interface Pending {
  readonly tick: number;
  readonly control: number;
  readonly value: number;
}

const OK: RunStatus = { ok: true };

/**
 * One vehicle in time. The engine stays at most one step ahead of the tick it was asked for. A control that changes inside that
 * step takes it back: the step is thrown away and taken again from its start, cut at the control's tick. So how far each call
 * advances, how often anyone looks, and when a control became known change no bit of the trace.
 */
export class Simulation {
  readonly model: EngineModel;
  private readonly plan: Plan;
  private readonly system: System;
  private readonly stepper: Stepper;
  private readonly discrete: Discrete;
  private readonly channels: Channels;
  private readonly ledger: Ledger;
  private readonly watches: readonly Watch[];
  private readonly tolerance: number;
  private readonly x: Float64Array;
  private readonly glance: Float64Array;
  private readonly hash = new BitHash();
  private pending: Pending[] = [];
  private ramping: Pending[] = [];
  private events: EngineEvent[] = [];
  private status: RunStatus = OK;
  private started = false;
  private stepReady = false;
  private timeS = 0;
  private stepEndS = 0;
  /** Tick at which the ready step was cut, -1 when it was not. */
  private cutTick = -1;
  private proposedS = FIRST_STEP_S;
  private nextS = FIRST_STEP_S;
  private eventMode = -1;
  private eventCount = 0;
  private reachedTick = 0;

  constructor(model: EngineModel, options: SimulationOptions = {}) {
    const tolerance = options.tolerance ?? DEFAULT_TOLERANCE;
    if (!(tolerance >= 1e-12 && tolerance <= 1e-2))
      throw new RangeError(`tolerance must lie in 1e-12..1e-2, not ${tolerance}`);
    this.model = model;
    this.tolerance = tolerance;
    this.plan = options.plan?.model === model ? options.plan : makePlan(model);
    const make = options.straightLine === false ? undefined : this.plan.make;
    this.system = new System(this.plan, make);
    this.stepper = new Stepper(this.system, make);
    this.discrete = new Discrete(this.plan);
    this.channels = new Channels(this.plan, this.system);
    this.x = startValues(this.plan, this.discrete, options.start ?? {});
    this.glance = new Float64Array(this.x.length);
    this.watches = model.watches.map((w) => {
      const mix = flattenMix(this.plan.layout, w.mix);
      return { ...w, mix, falling: { index: mix.index, weight: mix.weight.map((k) => -k), offset: -mix.offset } };
    });
    this.settle();
    this.ledger = new Ledger(this.plan, this.system, this.x);
  }

  /** Latest tick that {@link advanceTo} has reached. */
  get tick(): number {
    return this.reachedTick;
  }

  /** Hands over what a person did. Throws RangeError for an unknown control, a value out of range, or a tick already passed. */
  setControl(entry: ControlEntry): void {
    const control = this.discrete.check(entry);
    if (entry.tick < this.reachedTick)
      throw new RangeError(`tick ${entry.tick} has passed; the run stands at ${this.reachedTick}`);
    let at = this.pending.length;
    while (at > 0 && this.pending[at - 1].tick > entry.tick) at -= 1;
    this.pending.splice(at, 0, { tick: entry.tick, control, value: entry.value });
    if (this.stepReady && tickTimeS(entry.tick) <= this.stepEndS) this.takeBack();
  }

  /** Throws the ready step away; it will be taken again from the same start with the same proposed size. */
  private takeBack(): void {
    this.stepReady = false;
    this.nextS = this.proposedS;
  }

  /** Runs on to a tick. A run that cannot go on says so and stays where it is. */
  advanceTo(tick: number): RunStatus {
    if (!(tick >= this.reachedTick && Math.floor(tick) === tick)) {
      throw new RangeError(`can only advance to a whole tick from ${this.reachedTick} on, not ${tick}`);
    }
    const goal = tickTimeS(tick);
    while (this.status.ok && tick > 0 && !(this.stepReady && this.stepEndS >= goal)) {
      if (this.stepReady) this.commit();
      if (!this.started) this.startRun();
      if (this.status.ok) this.takeStep();
    }
    if (this.status.ok) this.reachedTick = tick;
    return this.status;
  }

  private fail(message: string): void {
    this.status = { ok: false, tick: this.reachedTick, message: `${message} at ${this.timeS.toFixed(4)} s` };
  }

  private startRun(): void {
    this.started = true;
    this.applyControls(0);
    this.settle();
  }

  private settle(): void {
    const report = (change: ModeChange): void => this.record(this.timeS, change);
    if (!this.discrete.settle(this.x, report)) this.fail("two valves chase each other without end");
    this.system.refresh(this.x);
  }

  private record(timeS: number, change: ModeChange): void {
    this.eventCount += 1;
    this.events.push({ timeS, id: change.id, on: change.on, text: change.text });
  }

  private applyControls(tick: number): void {
    for (const r of this.ramping) this.discrete.land(r.control, r.value, this.x);
    this.ramping = [];
    this.system.rampSlopes.fill(0);
    const report = (change: ModeChange): void => this.record(this.timeS, change);
    while (this.pending.length > 0 && this.pending[0].tick <= tick) {
      const entry = this.pending.shift()!;
      if (this.discrete.apply(entry.control, entry.value, this.x, this.system.rampSlopes, report)) {
        this.ramping = this.ramping.filter((r) => r.control !== entry.control);
        this.ramping.push({ ...entry, tick: tick + 1 });
      }
    }
    this.nextS = Math.min(this.nextS, FIRST_STEP_S);
  }

  /**
   * Takes the step that the air allows, as if nothing were known of what is to come, and only when it reaches a tick at which something
   * changes takes it again, cut there. So a control that is known early leaves no mark on the steps before it.
   */
  private takeStep(): void {
    this.stepper.start.set(this.x);
    this.proposedS = this.nextS;
    if (!this.stepper.begin()) {
      this.fail("a pressure or mass left the physical range");
      return;
    }
    // Where a ramp lands is known to a live run too: only controls still to come are looked away from.
    const landing = this.ramping.length > 0 ? this.ramping[0].tick : -1;
    this.stepTo(landing);
    const control = this.pending.length > 0 ? this.pending[0].tick : -1;
    if (!this.status.ok || control < 0 || control === landing || this.stepEndS < tickTimeS(control)) return;
    this.nextS = this.proposedS;
    this.stepTo(control);
  }

  /** A step that ends at this tick at the latest; -1 for none. */
  private stepTo(tick: number): void {
    this.cutTick = tick;
    const room = tick < 0 ? Infinity : tickTimeS(tick) - this.timeS;
    const wanted = Math.min(this.nextS, LONGEST_STEP_S);
    this.findAcceptableStep(wanted >= room * (1 - 1e-9) ? room : wanted, room);
  }

  /** Tries `wanted` and then ever shorter steps; one that fills the room is cut at the tick. */
  private findAcceptableStep(wanted: number, room: number): void {
    let h = wanted;
    for (;;) {
      const error = this.stepper.attempt(h, this.tolerance);
      if (error >= 0 && error <= 1) {
        this.accept(h, h === room, error);
        return;
      }
      this.stepper.counts.rejected += 1;
      h *= error < 0 ? 0.25 : Math.max(SHRINK, SAFETY / fourthRoot(error));
      if (h < SMALLEST_STEP_S) {
        this.fail("the step size fell to nothing");
        return;
      }
    }
  }

  private accept(h: number, cut: boolean, error: number): void {
    this.stepper.finish();
    const grown = error > 0 ? Math.min(GROWTH, SAFETY / fourthRoot(error)) : GROWTH;
    const suggestion = Math.min(LONGEST_STEP_S, h * Math.max(SHRINK, grown));
    // A step cut short by a tick says little about the step the air would allow.
    this.nextS = cut ? Math.max(suggestion, Math.min(this.proposedS, h * GROWTH)) : suggestion;
    this.stepEndS = cut && this.cutTick >= 0 ? tickTimeS(this.cutTick) : this.timeS + h;
    if (!cut) this.cutTick = -1;
    this.eventMode = -1;
    this.stepReady = true;
    this.lookForEvent(h);
  }

  /** Finds the first mode due within the step and takes the step again so that it ends there. */
  private lookForEvent(h: number): void {
    let first = 2;
    let which = -1;
    for (let i = 0; i < this.discrete.modes.length; i++) {
      const trigger = this.discrete.trigger(i, this.x);
      const at = trigger ? firstRise(trigger, this.stepper) : -1;
      if (at >= 0 && at < first) {
        first = at;
        which = i;
      }
    }
    if (which >= 0) this.endStepAt(which, first * h);
  }

  private endStepAt(mode: number, guess: number): void {
    const trigger = this.discrete.trigger(mode, this.x)!;
    let h = Math.max(guess, SMALLEST_STEP_S);
    let previousH = 0;
    let previousG = mixWithin(trigger, this.stepper, 0);
    for (let pass = 0; pass < EVENT_TRIES; pass++) {
      if (this.stepper.attempt(h, this.tolerance) < 0) break;
      this.stepper.finish();
      const g = mixWithin(trigger, this.stepper, 1);
      if (Math.abs(g) <= EVENT_TOLERANCE || g === previousG) break;
      const slope = (g - previousG) / (h - previousH);
      previousH = h;
      previousG = g;
      const next = h - g / slope;
      if (!(next > 0.5 * h && next < 1.5 * h)) break;
      h = next;
    }
    this.stepEndS = this.timeS + h;
    this.cutTick = -1;
    this.eventMode = mode;
    this.nextS = Math.min(this.nextS, FIRST_STEP_S);
  }

  /** Makes the ready step part of the run: hash, watches, then whatever changes at its end. */
  private commit(): void {
    this.reportWatches();
    this.stepper.counts.steps += 1;
    this.x.set(this.stepper.end);
    this.timeS = this.stepEndS;
    this.hash.addNumber(this.timeS);
    for (let s = 0; s < this.plan.layout.stateCount; s++) this.hash.addNumber(this.x[s]);
    this.stepReady = false;
    if (this.eventMode >= 0) {
      this.record(this.timeS, this.discrete.flip(this.eventMode, this.x));
      this.settle();
    }
    if (this.cutTick >= 0) {
      this.applyControls(this.cutTick);
      this.settle();
    }
  }

  private reportWatches(): void {
    const h = this.stepEndS - this.timeS;
    for (const w of this.watches) {
      const before = mixWithin(w.mix, this.stepper, 0);
      const after = mixWithin(w.mix, this.stepper, 1);
      if (before < 0 === after < 0) continue;
      const rising = before < 0;
      const at = rootBetween(rising ? w.mix : w.falling, this.stepper, 0, 1);
      this.record(this.timeS + at * h, { id: w.id, on: rising, text: rising ? w.risingText : w.fallingText });
    }
  }

  /** Values at a tick inside the last advance: between `x` and the end of the ready step. */
  private look(tick: number): Float64Array {
    if (!this.stepReady && this.started && this.status.ok && tickTimeS(tick) > this.timeS) this.takeStep();
    if (!this.stepReady) {
      this.glance.set(this.x);
      return this.glance;
    }
    const t = tickTimeS(tick);
    if (!(t >= this.timeS - 1e-9 && t <= this.stepEndS + 1e-9))
      throw new RangeError(`tick ${tick} lies outside the step from ${this.timeS} to ${this.stepEndS} s`);
    const fraction = (t - this.timeS) / (this.stepEndS - this.timeS);
    this.stepper.interpolate(Math.min(1, Math.max(0, fraction)), this.glance);
    return this.glance;
  }

  /** All channels at a tick, in the order of `model.channels`. The tick must lie in the step that reaches {@link tick}. */
  sample(tick: number = this.reachedTick, out = new Float64Array(this.model.channels.length)): Float64Array {
    this.channels.read(this.look(tick), out);
    return out;
  }

  /** Events since the last call, oldest first. Those of a step still ahead of the tick are not out yet. */
  takeEvents(): EngineEvent[] {
    const taken = this.events;
    this.events = [];
    return taken;
  }

  /** Mass and energy at the tick reached, against the start. */
  balance(): Balance {
    return this.ledger.balance(this.look(this.reachedTick));
  }

  statistics(): Statistics {
    return { ...this.stepper.counts, events: this.eventCount };
  }

  /** Fingerprint of every step that is part of the run so far. */
  traceHash(): string {
    return this.hash.digest();
  }

  /** The complete state as one flat array; {@link restore} continues from it to the same bits. */
  snapshot(): Float64Array {
    const head = [
      this.reachedTick,
      this.timeS,
      this.stepReady ? this.proposedS : this.nextS,
      ...this.hash.save(),
      this.started ? 1 : 0,
      this.eventCount,
      this.ramping.length,
      this.pending.length,
    ];
    const lists = [...this.ramping, ...this.pending].flatMap((p) => [p.tick, p.control, p.value]);
    return Float64Array.from([...head, ...this.x, ...this.system.rampSlopes, ...lists]);
  }

  restore(state: Float64Array): void {
    let at = 0;
    const next = (): number => {
      at += 1;
      return state[at - 1];
    };
    this.reachedTick = next();
    this.timeS = next();
    this.nextS = next();
    this.hash.resume(next(), next(), next());
    this.started = next() === 1;
    this.eventCount = next();
    const ramping = next();
    const pending = next();
    for (let i = 0; i < this.x.length; i++) this.x[i] = next();
    for (let i = 0; i < this.system.rampSlopes.length; i++) this.system.rampSlopes[i] = next();
    const list = (count: number): Pending[] =>
      Array.from({ length: count }, () => ({ tick: next(), control: next(), value: next() }));
    this.ramping = list(ramping);
    this.pending = list(pending);
    this.events = [];
    this.status = OK;
    this.stepReady = false;
    this.system.refresh(this.x);
  }
}

/** Fourth root by two square roots: the step-size control may use exact operations only. */
function fourthRoot(value: number): number {
  return Math.sqrt(Math.sqrt(value));
}
