import { GAS_CONSTANT } from "../numerics/gas.ts";
import { AirState } from "./airState.ts";
import type { Discrete } from "./discrete.ts";
import { flattenMix, mixValue } from "./flatMix.ts";
import type { Plan } from "./plan.ts";

/** How a run begins. What is not named starts empty (atmospheric), at wall temperature, with controls and modes as the vehicle has them. */
export interface StartState {
  /** Per node: gauge pressure, Pa, and air temperature, K. */
  readonly nodes?: Readonly<Record<string, { readonly gaugePressurePa?: number; readonly temperatureK?: number }>>;
  readonly controls?: Readonly<Record<string, number>>;
  readonly modes?: Readonly<Record<string, 0 | 1>>;
  /** Lags by name; gauges follow their pressure unless named. */
  readonly lags?: Readonly<Record<string, number>>;
}

function refuseUnknown(
  kind: string,
  given: Readonly<Record<string, unknown>> | undefined,
  known: readonly string[],
): void {
  for (const name of Object.keys(given ?? {})) {
    if (!known.includes(name))
      throw new RangeError(`start state names the ${kind} "${name}"; this vehicle has ${known.join(", ")}`);
  }
}

function setPressures(plan: Plan, start: StartState, x: Float64Array): void {
  const { model } = plan;
  model.nodes.forEach((node, i) => {
    const gauge = start.nodes?.[node.name]?.gaugePressurePa ?? 0;
    const absolute = model.atmosphere.pressurePa + gauge;
    if (!(absolute > 0 && absolute < 1e8))
      throw new RangeError(`start pressure of ${node.name} must be above vacuum and finite, not ${gauge} Pa gauge`);
    x[i] = absolute;
  });
}

function setMasses(plan: Plan, start: StartState, x: Float64Array): void {
  const air = new AirState(plan);
  air.volumeM3.forEach((_, i) => {
    const m = plan.layout.massOf[i];
    if (m >= 0) x[m] = 1;
  });
  air.update(x);
  plan.model.nodes.forEach((node, i) => {
    const m = plan.layout.massOf[i];
    const t = start.nodes?.[node.name]?.temperatureK ?? node.wallTemperatureK;
    if (!(t >= 150 && t <= 700))
      throw new RangeError(`start temperature of ${node.name} must lie in 150..700 K, not ${t}`);
    if (m >= 0) x[m] = (x[i] * air.volumeM3[i]) / (GAS_CONSTANT * t);
  });
}

/** All values at the start of a run. Throws RangeError naming what is unknown or out of range. */
export function startValues(plan: Plan, discrete: Discrete, start: StartState): Float64Array {
  const { model, layout } = plan;
  refuseUnknown(
    "node",
    start.nodes,
    model.nodes.map((n) => n.name),
  );
  refuseUnknown(
    "control",
    start.controls,
    model.controls.map((c) => c.id),
  );
  refuseUnknown(
    "mode",
    start.modes,
    model.modes.map((m) => m.id),
  );
  refuseUnknown(
    "lag",
    start.lags,
    model.lags.map((l) => l.name),
  );
  const x = new Float64Array(layout.valueCount);
  x[layout.atmosphere] = model.atmosphere.pressurePa;
  setPressures(plan, start, x);
  model.waters.forEach((w, i) => {
    x[layout.waterOf[i]] = w.initialM3;
  });
  setMasses(plan, start, x);
  model.modes.forEach((m, i) => {
    x[layout.modeOf[i]] = start.modes?.[m.id] ?? m.initial;
  });
  model.controls.forEach((c, i) => {
    const value = start.controls?.[c.id] ?? c.initial;
    discrete.check({ tick: 0, control: c.id, value });
    if (c.kind !== "command") discrete.land(i, value, x);
    else if (start.controls?.[c.id] !== undefined) discrete.set(i, value, x);
  });
  model.lags.forEach((lag, i) => {
    const given = start.lags?.[lag.name];
    x[layout.lagOf[i]] = given ?? (lag.initial === "mix" ? mixValue(flattenMix(layout, lag.mix), x) : lag.initial);
  });
  return x;
}
