import { toSi } from "@brakeyard/units";
import type { ControlInfo } from "../live/contract.ts";
import type { UnitName } from "../page/settings.ts";

/** A marked position of the pedal: what the button says and where it puts the pedal. */
export interface PedalStep {
  label: string;
  travel: number;
}

const MARKS: Record<UnitName, readonly [number, number]> = { psi: [20, 60], kPa: [140, 400], bar: [1.5, 4] };
/** What one press of + or - asks for. */
const NUDGE: Record<UnitName, number> = { psi: 5, kPa: 35, bar: 0.35 };

/** Travel at which the pedal asks for a gauge pressure, by the foot valve's own curve. */
export function travelFor(pedal: ControlInfo, pressurePa: number): number {
  const { curve } = pedal;
  if (!curve) return pedal.maximum;
  for (let i = 1; i < curve.at.length; i += 1) {
    const low = curve.gives[i - 1]!;
    const high = curve.gives[i]!;
    if (pressurePa > high || high <= low) continue;
    const share = Math.max(0, (pressurePa - low) / (high - low));
    return curve.at[i - 1]! + share * (curve.at[i]! - curve.at[i - 1]!);
  }
  return pedal.maximum;
}

/** Gauge pressure that the pedal asks for at a travel, Pa; never below zero. */
export function askedFor(pedal: ControlInfo, travel: number): number {
  const { curve } = pedal;
  if (!curve) return 0;
  for (let i = 1; i < curve.at.length; i += 1) {
    if (travel > curve.at[i]!) continue;
    const share = (travel - curve.at[i - 1]!) / (curve.at[i]! - curve.at[i - 1]!);
    return Math.max(0, curve.gives[i - 1]! + share * (curve.gives[i]! - curve.gives[i - 1]!));
  }
  return Math.max(0, curve.gives.at(-1)!);
}

export function pedalSteps(pedal: ControlInfo, unit: UnitName, full: string): PedalStep[] {
  const marks = MARKS[unit].map((mark) => ({
    label: String(mark),
    travel: travelFor(pedal, toSi("pressure", mark, unit)),
  }));
  return [{ label: "0", travel: pedal.minimum }, ...marks, { label: full, travel: pedal.maximum }];
}

/** The next position up or down, on whole steps of pressure; from the last of them to full travel and back. */
export function nudged(pedal: ControlInfo, unit: UnitName, travel: number, up: boolean): number {
  const step = toSi("pressure", NUDGE[unit], unit);
  const most = pedal.curve ? pedal.curve.gives.at(-2)! : 0;
  const asked = askedFor(pedal, travel);
  const count = asked / step;
  if (asked > most * 1.0001) return up ? pedal.maximum : travelFor(pedal, most);
  const next = (up ? Math.floor(count + 1e-6) + 1 : Math.ceil(count - 1e-6) - 1) * step;
  if (next <= 0) return pedal.minimum;
  return next > most * 1.0001 ? pedal.maximum : travelFor(pedal, next);
}
