import { type ControlEntry, TICK_S } from "@brakeyard/engine";
import { Discrete, type ModeChange } from "../../packages/engine/src/run/discrete.ts";
import { mixValue } from "../../packages/engine/src/run/flatMix.ts";
import { startValues } from "../../packages/engine/src/run/start.ts";
import { System } from "../../packages/engine/src/run/system.ts";
import type { Session } from "./session.ts";
import type { BenchSubject } from "./subjects.ts";

/** A mode changed, as the product reports it. */
export interface ModeEvent {
  readonly timeS: number;
  readonly id: string;
  readonly on: boolean;
}

/** How closely the instant of an event is found, s. It costs a few dozen steps an event, which is nothing among thousands. */
const EVENT_S = 1e-9;

/**
 * Plain classical Runge-Kutta of order 4 with one fixed step, on the product's own right-hand side (the same straight-line code). Controls
 * move on their ticks exactly as in the product, because a tick is a whole number of steps. When a mode falls due within a step, the step is
 * cut at that instant, found by bisection, and its rest is taken after the mode has changed: to change it at the end of the step would be late
 * by so much that this method could not be as accurate as the product at any step worth measuring.
 */
export class RungeKutta {
  /** Where the run stands. */
  x: Float64Array;
  readonly events: ModeEvent[] = [];
  private readonly system: System;
  private readonly discrete: Discrete;
  private readonly log: readonly ControlEntry[];
  private readonly stepsPerTick: number;
  private z: Float64Array;
  private readonly y: Float64Array;
  private readonly k1: Float64Array;
  private readonly k2: Float64Array;
  private readonly k3: Float64Array;
  private readonly k4: Float64Array;
  private next = 0;
  private ramping: { control: number; value: number }[] = [];
  private timeS = 0;
  tick = 0;

  constructor(subject: BenchSubject, session: Session, stepsPerTick: number) {
    const { plan } = subject;
    this.system = new System(plan, plan.make);
    this.discrete = new Discrete(plan);
    this.x = startValues(plan, this.discrete, session.start);
    this.z = this.x.slice();
    this.y = this.x.slice();
    this.log = session.log;
    this.stepsPerTick = stepsPerTick;
    const { stateCount } = plan.layout;
    this.k1 = new Float64Array(stateCount);
    this.k2 = new Float64Array(stateCount);
    this.k3 = new Float64Array(stateCount);
    this.k4 = new Float64Array(stateCount);
    this.settle();
  }

  /** Runs on to a tick. Returns false when the step is too long and the state leaves the physical range. */
  advanceTo(tick: number): boolean {
    const h = TICK_S / this.stepsPerTick;
    while (this.tick < tick) {
      this.moveControls();
      for (let i = 0; i < this.stepsPerTick; i++) {
        if (!this.wholeStep(h)) return false;
        this.timeS = (this.tick + (i + 1) / this.stepsPerTick) * TICK_S;
      }
      this.tick += 1;
    }
    return true;
  }

  private moveControls(): void {
    const due = this.next < this.log.length && this.log[this.next]!.tick <= this.tick;
    if (!due && this.ramping.length === 0) return;
    for (const r of this.ramping) this.discrete.land(r.control, r.value, this.x);
    this.ramping = [];
    this.system.rampSlopes.fill(0);
    while (this.next < this.log.length && this.log[this.next]!.tick <= this.tick) this.apply(this.log[this.next++]!);
    this.settle();
  }

  private apply(entry: ControlEntry): void {
    const control = this.discrete.check(entry);
    if (!this.discrete.apply(control, entry.value, this.x, this.system.rampSlopes, this.report)) return;
    this.ramping = this.ramping.filter((r) => r.control !== control);
    this.ramping.push({ control, value: entry.value });
  }

  private readonly report = ({ id, on }: ModeChange): void => {
    this.events.push({ timeS: this.timeS, id, on });
  };

  /** One step, cut where modes fall due. */
  private wholeStep(h: number): boolean {
    for (let left = h; ; ) {
      if (!this.step(left)) return false;
      if (!this.modeIsDue(this.z)) {
        this.swap();
        return true;
      }
      const part = this.timeToEvent(left);
      if (!this.step(part)) return false;
      this.swap();
      this.timeS += part;
      this.settle();
      left -= part;
      if (!(left > EVENT_S)) return true;
    }
  }

  /** Length of the step after which a mode is due, at most `most`, at which it is. */
  private timeToEvent(most: number): number {
    let early = 0;
    let late = most;
    while (late - early > EVENT_S) {
      const middle = 0.5 * (early + late);
      if (this.step(middle) && !this.modeIsDue(this.z)) early = middle;
      else late = middle;
    }
    return late;
  }

  private swap(): void {
    const { x } = this;
    this.x = this.z;
    this.z = x;
  }

  private modeIsDue(values: Float64Array): boolean {
    const { discrete } = this;
    for (let i = 0; i < discrete.modes.length; i++) {
      const trigger = discrete.trigger(i, values);
      if (trigger && mixValue(trigger, values) >= 0) return true;
    }
    return false;
  }

  private settle(): void {
    if (!this.discrete.settle(this.x, this.report)) throw new Error("two valves chase each other without end");
    this.system.refresh(this.x);
    this.y.set(this.x);
    this.z.set(this.x);
  }

  /** From `x` over h to `z`. */
  private step(h: number): boolean {
    const { system, x, y, z, k1, k2, k3, k4 } = this;
    const n = k1.length;
    if (!system.evaluate(x, k1)) return false;
    for (let s = 0; s < n; s++) y[s] = x[s]! + 0.5 * h * k1[s]!;
    if (!system.evaluate(y, k2)) return false;
    for (let s = 0; s < n; s++) y[s] = x[s]! + 0.5 * h * k2[s]!;
    if (!system.evaluate(y, k3)) return false;
    for (let s = 0; s < n; s++) y[s] = x[s]! + h * k3[s]!;
    if (!system.evaluate(y, k4)) return false;
    const sixth = h / 6;
    for (let s = 0; s < n; s++) z[s] = x[s]! + sixth * (k1[s]! + 2 * (k2[s]! + k3[s]!) + k4[s]!);
    return true;
  }
}
