import type { ChannelSpec } from "../model/model.ts";
import { type FlatMix, flattenMix, mixValue } from "./flatMix.ts";
import { indexOf } from "./layout.ts";
import type { Plan } from "./plan.ts";
import type { System } from "./system.ts";

/** Reads channels off the values of one instant. Never changes them. */
export class Channels {
  private readonly plan: Plan;
  private readonly system: System;
  private readonly rates: Float64Array;
  private readonly readers: readonly ((x: Float64Array) => number)[];

  constructor(plan: Plan, system: System) {
    this.plan = plan;
    this.system = system;
    this.rates = new Float64Array(plan.layout.stateCount);
    this.readers = plan.model.channels.map((c) => this.reader(c));
  }

  /** Writes all channels at x, in the model's order. */
  read(x: Float64Array, out: Float64Array): void {
    this.system.evaluate(x, this.rates);
    for (let i = 0; i < this.readers.length; i++) out[i] = this.readers[i](x);
  }

  private reader(channel: ChannelSpec): (x: Float64Array) => number {
    const { layout } = this.plan;
    const { system } = this;
    const s = channel.source;
    switch (s.of) {
      case "gaugePressure":
        return (x) => x[s.node] - x[layout.atmosphere];
      case "temperature":
        return () => system.air.temperatureK[s.node];
      case "signal": {
        const at = indexOf(layout, s.signal);
        return (x) => x[at] * s.scale + s.offset;
      }
      case "flow":
        return () => {
          let sum = 0;
          for (const o of s.orifices) sum += o.sign * system.orifices.flow[o.index];
          return sum;
        };
      case "compressorFlow":
        return () => system.compressors.flow[s.index];
      case "opening":
        return () => system.orifices.opening[s.orifice];
      case "totalMass":
        return (x) => totalMass(this.plan, system, x);
      case "threshold":
        return this.threshold(
          s.any.map((m) => flattenMix(layout, m)),
          s.whileOn && indexOf(layout, s.whileOn),
        );
      case "needle": {
        const at = indexOf(layout, s.lag);
        const on = s.whileOn && indexOf(layout, s.whileOn);
        return (x) => {
          if (on !== undefined && x[on] !== 1) return 0;
          const shown = x[at] * s.gain + s.offset;
          return s.resolution > 0 ? Math.floor(shown / s.resolution + 0.5) * s.resolution : shown;
        };
      }
      default:
        return this.rodReader(s.of, s.chamber);
    }
  }

  private threshold(any: readonly FlatMix[], on: number | undefined): (x: Float64Array) => number {
    return (x) => {
      if (on !== undefined && x[on] !== 1) return 0;
      for (const m of any) if (mixValue(m, x) >= 0) return 1;
      return 0;
    };
  }

  private rodReader(
    of: "stroke" | "rodForce" | "springForce" | "springStroke",
    chamber: number,
  ): (x: Float64Array) => number {
    const { layout, model } = this.plan;
    const spec = model.chambers[chamber];
    const rod = this.system.air.rods[chamber];
    const power = spec.spring;
    const springPush = (x: Float64Array): number => {
      if (!power) return 0;
      const push =
        power.forceN - power.rateNPerM * rod.springStroke - power.areaM2 * (x[power.node] - x[layout.atmosphere]);
      return Math.max(0, push);
    };
    if (of === "stroke") return () => rod.stroke;
    if (of === "springStroke") return () => rod.springStroke;
    if (of === "springForce") return springPush;
    return (x) => {
      const air = spec.areaM2 * (x[spec.serviceNode] - x[layout.atmosphere]);
      const back = spec.returnSpring.preloadN + spec.returnSpring.rateNPerM * rod.stroke;
      return Math.max(0, air + springPush(x) - back);
    };
  }
}

export function totalMass(plan: Plan, system: System, x: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < plan.layout.nodeCount; i++) sum += system.air.massKg(i, x);
  return sum;
}
