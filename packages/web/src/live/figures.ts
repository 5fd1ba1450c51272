import { toSi } from "@brakeyard/units";
import { computed, type ReadonlySignal } from "@preact/signals";
import { settings, type UnitName } from "../page/settings.ts";
import type { Instruments } from "./instruments.ts";

export type Shown = "pressure" | "stroke" | "force";

interface Rule {
  unit: string;
  /** Smallest step shown, in `unit`. */
  step: number;
  decimals: number;
  stepSi: number;
}

const rule = (kind: "pressure" | "length" | "force", unit: string, step: number, decimals: number): Rule => ({
  unit,
  step,
  decimals,
  stepSi: toSi(kind, step, unit),
});

const metricStroke = rule("length", "mm", 1, 0);
const metricForce = rule("force", "kN", 0.1, 1);

/** How each quantity is written under each choice of units. */
const RULES: Record<Shown, Record<UnitName, Rule>> = {
  pressure: {
    psi: rule("pressure", "psi", 1, 0),
    kPa: rule("pressure", "kPa", 5, 0),
    bar: rule("pressure", "bar", 0.1, 1),
  },
  stroke: { psi: rule("length", "in", 0.01, 2), kPa: metricStroke, bar: metricStroke },
  force: { psi: rule("force", "lbf", 10, 0), kPa: metricForce, bar: metricForce },
};

export function ruleOf(shown: Shown): Rule {
  return RULES[shown][settings.unit.value];
}

/** Writes an SI value the way the page shows it, with its unit. */
export function written(shown: Shown, si: number): string {
  const r = ruleOf(shown);
  return `${(Math.round(si / r.stepSi) * r.step).toFixed(r.decimals)} ${r.unit}`;
}

/** A channel as text that changes only when the written figure does. Empty until the first frame. */
export function figure(instruments: Instruments, channel: string | undefined, shown: Shown): ReadonlySignal<string> {
  const counts = {
    psi: instruments.watch(channel, RULES[shown].psi.stepSi),
    kPa: instruments.watch(channel, RULES[shown].kPa.stepSi),
    bar: instruments.watch(channel, RULES[shown].bar.stepSi),
  };
  return computed(() => {
    const r = ruleOf(shown);
    const count = counts[settings.unit.value].value;
    // A gauge shows no minus sign for the last trace of vacuum.
    return Number.isNaN(count) ? "" : (Math.max(count, 0) * r.step).toFixed(r.decimals);
  });
}
