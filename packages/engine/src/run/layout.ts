import type { EngineModel, Signal } from "../model/model.ts";
import { CURVES_PER_CONTROL } from "../model/network.ts";

/**
 * Where each quantity stands in the one flat array `x`:
 * core states (what feeds back), trailing states (needles and audit sums), then values that are constant within a step.
 */
export interface Layout {
  readonly nodeCount: number;
  /** Number of states in the implicit core, of all states, and of all values. */
  readonly coreCount: number;
  readonly stateCount: number;
  readonly valueCount: number;
  readonly massOf: Int32Array; // per node, -1 when isothermal
  readonly waterOf: Int32Array; // per water
  readonly lagOf: Int32Array; // per lag
  readonly rampOf: Int32Array; // per control signal, -1 when not a ramp
  readonly controlOf: Int32Array; // per control signal
  readonly modeOf: Int32Array;
  readonly productOf: Int32Array;
  readonly atmosphere: number;
  readonly audit: AuditIndex;
}

export interface AuditIndex {
  readonly massIn: number;
  readonly massOut: number;
  readonly enthalpyIn: number;
  readonly enthalpyOut: number;
  readonly heatOut: number;
}

class Counter {
  value = 0;
  next(): number {
    this.value += 1;
    return this.value - 1;
  }
}

function controlSignalCount(model: EngineModel): number {
  return model.controls.length * CURVES_PER_CONTROL;
}

function curveCount(model: EngineModel, control: number): number {
  const spec = model.controls[control];
  return spec.kind === "command" ? 0 : Math.max(1, spec.curves?.length ?? 0);
}

export function layOut(model: EngineModel): Layout {
  const at = new Counter();
  for (const _ of model.nodes) at.next();
  const massOf = Int32Array.from(model.nodes, (n) => (n.isothermal ? -1 : at.next()));
  const waterOf = Int32Array.from(model.waters, () => at.next());
  const rampOf = new Int32Array(controlSignalCount(model)).fill(-1);
  const controlOf = new Int32Array(controlSignalCount(model)).fill(-1);
  model.controls.forEach((spec, i) => {
    if (spec.kind !== "ramp") return;
    for (let c = 0; c < curveCount(model, i); c++) {
      rampOf[i * CURVES_PER_CONTROL + c] = at.next();
      controlOf[i * CURVES_PER_CONTROL + c] = at.value - 1;
    }
  });
  const lagOf = new Int32Array(model.lags.length);
  model.lags.forEach((lag, i) => {
    if (lag.feedsBack) lagOf[i] = at.next();
  });
  const coreCount = at.value;
  model.lags.forEach((lag, i) => {
    if (!lag.feedsBack) lagOf[i] = at.next();
  });
  const audit = {
    massIn: at.next(),
    massOut: at.next(),
    enthalpyIn: at.next(),
    enthalpyOut: at.next(),
    heatOut: at.next(),
  };
  const stateCount = at.value;
  const atmosphere = at.next();
  model.controls.forEach((spec, i) => {
    if (spec.kind !== "step") return;
    for (let c = 0; c < curveCount(model, i); c++) controlOf[i * CURVES_PER_CONTROL + c] = at.next();
  });
  const modeOf = Int32Array.from(model.modes, () => at.next());
  const productOf = Int32Array.from(model.products, () => at.next());
  return {
    nodeCount: model.nodes.length,
    coreCount,
    stateCount,
    valueCount: at.value,
    massOf,
    waterOf,
    lagOf,
    rampOf,
    controlOf,
    modeOf,
    productOf,
    atmosphere,
    audit,
  };
}

/** Index in `x` of a signal. Throws when the model names a signal that does not exist. */
export function indexOf(layout: Layout, signal: Signal): number {
  const found = lookUp(layout, signal);
  if (!(found >= 0)) throw new Error(`the model listens to ${signal.kind} ${signal.index}, which does not exist`);
  return found;
}

function lookUp(layout: Layout, signal: Signal): number {
  const i = signal.index;
  switch (signal.kind) {
    case "pressure":
      return i < layout.nodeCount ? i : -1;
    case "control":
      return layout.controlOf[i] ?? -1;
    case "mode":
      return layout.modeOf[i] ?? -1;
    case "product":
      return layout.productOf[i] ?? -1;
    case "lag":
      return layout.lagOf[i] ?? -1;
    case "water":
      return layout.waterOf[i] ?? -1;
    case "atmosphere":
      return layout.atmosphere;
  }
}
