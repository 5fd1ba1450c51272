import type { ChannelSpec, EngineModel } from "@brakeyard/engine";
import { HANDOVER_M } from "../../../packages/engine/src/numerics/strokeLaw.ts";

/** How far past a stop counts as rounding, in the unit of the value. */
const ROUNDING = 1e-9;
/** No air in a brake system is colder or hotter; the edges of what the gas is modelled for lie well within. */
const COLDEST_K = 60;
const HOTTEST_K = 1000;
const LARGEST_FORCE_N = 1e6;

/** What a value must keep to, both ends included. */
export interface Bound {
  readonly id: string;
  readonly index: number;
  readonly low: number;
  readonly high: number;
}

/** What must be so of every channel of a vehicle at any time. */
export function boundsOf(model: EngineModel): Bound[] {
  return model.channels.map((channel, index) => {
    const [low, high] = range(model, channel);
    return { id: channel.id, index, low: low - ROUNDING, high: high + ROUNDING };
  });
}

function range(model: EngineModel, { source }: ChannelSpec): readonly [number, number] {
  switch (source.of) {
    case "gaugePressure":
      return [-model.atmosphere.pressurePa * (1 - 1e-6), 1e7];
    case "temperature":
      return [COLDEST_K, HOTTEST_K];
    case "stroke":
      return [0, model.chambers[source.chamber]?.law.strokeM.at(-1) ?? 0];
    case "springStroke":
      // The change-over between "air moves the rod" and "spring moves the rod" is rounded, so a held spring stands a hair past its stop.
      return [-HANDOVER_M / 4, model.chambers[source.chamber]?.spring?.maximumStrokeM ?? 0];
    case "rodForce":
    case "springForce":
      return [0, LARGEST_FORCE_N];
    case "opening":
    case "threshold":
      return [0, 1];
    case "totalMass":
      return [0, 1000];
    case "signal":
      // Lags come to rest at zero within the tolerance of the steps.
      return source.signal.kind === "mode" ? [0, 1] : [-0.01, 1e7];
    default:
      return [-1e7, 1e7];
  }
}

/** Channels whose flow may never turn round, kg/s from inlet to outlet. */
export function checkValves(model: EngineModel): Bound[] {
  return model.channels.flatMap(({ id }, index) =>
    /^flow\.(.*\.)?(check|dryer\.outlet|springValve\.reservoir)$/.test(id) ? [{ id, index, low: 0, high: 1e3 }] : [],
  );
}

/** The bounds that a row of values breaks; NaN breaks any. */
export function broken(bounds: readonly Bound[], row: Float64Array): string[] {
  return bounds
    .filter(({ index, low, high }) => !(row[index]! >= low && row[index]! <= high))
    .map(({ id, index }) => `${id} ${row[index]}`);
}
