import type { EngineModel } from "../model/model.ts";
import { CURVES_PER_CONTROL } from "../model/network.ts";
import { TICK_S } from "../time.ts";
import { type FlatMix, flattenMix, mixValue } from "./flatMix.ts";
import { indexOf } from "./layout.ts";
import type { Plan } from "./plan.ts";

/** One thing a person did: at this tick the control goes to this value (a ramp reaches it one tick later). */
export interface ControlEntry {
  readonly tick: number;
  readonly control: string;
  readonly value: number;
}

interface FlatMode {
  readonly id: string;
  readonly at: number;
  readonly on: FlatMix | undefined;
  readonly off: FlatMix | undefined;
  readonly command: number;
  readonly stays: FlatMix | undefined;
  readonly needs: Int32Array;
  readonly onText: string;
  readonly offText: string;
}

interface FlatProduct {
  readonly at: number;
  readonly minimum: number;
  readonly terms: readonly { readonly weight: number; readonly factors: Int32Array }[];
}

/** A mode changed: which, and to what. */
export interface ModeChange {
  readonly id: string;
  readonly on: boolean;
  readonly text: string;
}

/** More changes of mode at one instant than this means two modes chase each other. */
const SETTLE_PASSES = 50;

/** Value of a control's curve. */
export function curveValue(at: readonly number[], gives: readonly number[], value: number): number {
  const last = at.length - 1;
  if (value <= at[0]) return gives[0];
  for (let i = 1; i <= last; i++) {
    if (value <= at[i]) return gives[i - 1] + ((gives[i] - gives[i - 1]) * (value - at[i - 1])) / (at[i] - at[i - 1]);
  }
  return gives[last];
}

/** The part of a vehicle that changes in jumps: controls, modes and what is derived from them. */
export class Discrete {
  private readonly model: EngineModel;
  private readonly plan: Plan;
  readonly modes: readonly FlatMode[];
  private readonly products: readonly FlatProduct[];
  private readonly controlNumber = new Map<string, number>();
  /** Order of ramp slopes as {@link System} reads them. */
  private readonly rampNumber: Int32Array;

  constructor(plan: Plan) {
    const { model, layout } = plan;
    this.plan = plan;
    this.model = model;
    this.modes = model.modes.map((m, i) => ({
      id: m.id,
      at: layout.modeOf[i],
      on: m.turnsOn && flattenMix(layout, m.turnsOn),
      off: m.turnsOff && flattenMix(layout, m.turnsOff),
      command: m.command ?? -1,
      stays: m.stays && flattenMix(layout, m.stays),
      needs: Int32Array.from(m.needs, (k) => layout.modeOf[k]),
      onText: m.onText,
      offText: m.offText,
    }));
    this.products = model.products.map((p, i) => ({
      at: layout.productOf[i],
      minimum: p.minimum,
      terms: p.terms.map((t) => ({ weight: t.weight, factors: Int32Array.from(t.factors, (s) => indexOf(layout, s)) })),
    }));
    model.controls.forEach((c, i) => {
      this.controlNumber.set(c.id, i);
    });
    let ramps = 0;
    this.rampNumber = layout.rampOf.map((at) => {
      if (at < 0) return -1;
      ramps += 1;
      return ramps - 1;
    });
  }

  /** Number of a control. Throws RangeError naming the control, or the range its value must keep. */
  check(entry: ControlEntry): number {
    const index = this.controlNumber.get(entry.control);
    if (index === undefined) throw new RangeError(`this vehicle has no control "${entry.control}"`);
    const spec = this.model.controls[index];
    if (!(entry.value >= spec.minimum && entry.value <= spec.maximum)) {
      throw new RangeError(`control "${entry.control}" takes ${spec.minimum} to ${spec.maximum}, not ${entry.value}`);
    }
    if (!(entry.tick >= 0 && Math.floor(entry.tick) === entry.tick)) {
      throw new RangeError(`control "${entry.control}" needs a whole tick of zero or more, not ${entry.tick}`);
    }
    return index;
  }

  outputs(control: number, value: number, curve: number): number {
    const c = this.model.controls[control].curves?.[curve];
    return c ? curveValue(c.at, c.gives, value) : value;
  }

  /** Writes a control at its tick: a jump, a command to modes, or the slope of a ramp over the coming tick. */
  apply(
    control: number,
    value: number,
    x: Float64Array,
    slopes: Float64Array,
    report: (change: ModeChange) => void,
  ): boolean {
    const spec = this.model.controls[control];
    if (spec.kind === "command") {
      this.command(control, value >= 0.5, x, report);
      return false;
    }
    const { layout } = this.plan;
    for (let c = 0; c < CURVES_PER_CONTROL; c++) {
      const at = layout.controlOf[control * CURVES_PER_CONTROL + c];
      if (at < 0) continue;
      const to = this.outputs(control, value, c);
      const ramp = this.rampNumber[control * CURVES_PER_CONTROL + c];
      if (ramp < 0) x[at] = to;
      else slopes[ramp] = (to - x[at]) / TICK_S;
    }
    return spec.kind === "ramp";
  }

  /** Writes a command control's modes without an event, as a run starts. */
  set(control: number, value: number, x: Float64Array): void {
    for (const mode of this.modes) if (mode.command === control) x[mode.at] = value >= 0.5 ? 1 : 0;
  }

  private command(control: number, on: boolean, x: Float64Array, report: (change: ModeChange) => void): void {
    for (const mode of this.modes) {
      if (mode.command !== control || (x[mode.at] === 1) === on) continue;
      x[mode.at] = on ? 1 : 0;
      report({ id: mode.id, on, text: on ? mode.onText : mode.offText });
      if (!on || !mode.stays || mixValue(mode.stays, x) >= 0) continue;
      x[mode.at] = 0;
      report({ id: mode.id, on: false, text: `${mode.offText}: it does not stay in` });
    }
  }

  /** Puts a ramp exactly where it was going. */
  land(control: number, value: number, x: Float64Array): void {
    const { layout } = this.plan;
    for (let c = 0; c < CURVES_PER_CONTROL; c++) {
      const at = layout.controlOf[control * CURVES_PER_CONTROL + c];
      if (at >= 0) x[at] = this.outputs(control, value, c);
    }
  }

  private updateProducts(x: Float64Array): void {
    for (const product of this.products) {
      let sum = 0;
      for (const term of product.terms) {
        let value = term.weight;
        for (let k = 0; k < term.factors.length; k++) value *= x[term.factors[k]]!;
        sum += value;
      }
      x[product.at] = Math.max(sum, product.minimum);
    }
  }

  /** The next mode that must change in this state, or -1. */
  private due(x: Float64Array): number {
    for (let i = 0; i < this.modes.length; i++) {
      const mode = this.modes[i];
      if (x[mode.at] === 1) {
        if (mode.off && mixValue(mode.off, x) >= 0) return i;
        for (let k = 0; k < mode.needs.length; k++) if (x[mode.needs[k]] !== 1) return i;
      } else if (mode.on && mixValue(mode.on, x) >= 0) return i;
    }
    return -1;
  }

  /** Flips one mode and reports it. */
  flip(i: number, x: Float64Array): ModeChange {
    const mode = this.modes[i];
    const on = x[mode.at] !== 1;
    x[mode.at] = on ? 1 : 0;
    return { id: mode.id, on, text: on ? mode.onText : mode.offText };
  }

  /** Lets modes follow from one another until none is due. Returns false when they chase each other. */
  settle(x: Float64Array, report: (change: ModeChange) => void): boolean {
    for (let pass = 0; pass < SETTLE_PASSES; pass++) {
      this.updateProducts(x);
      const due = this.due(x);
      if (due < 0) return true;
      report(this.flip(due, x));
    }
    return false;
  }

  /** Trigger of a mode in its present position, or undefined when nothing in the air can move it. */
  trigger(i: number, x: Float64Array): FlatMix | undefined {
    const mode = this.modes[i];
    return x[mode.at] === 1 ? mode.off : mode.on;
  }
}
