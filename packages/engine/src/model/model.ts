/**
 * The engine's model of one vehicle as plain data: what stands where, joined at air ports. Nothing in it is a function,
 * so it can be copied to a worker, stored and compared. {@link Network} builds it; {@link Simulation} runs it.
 *
 * Conventions: pressures are absolute Pa unless a name says gauge; temperatures K; flows kg/s, positive from `from` to `to`.
 */

/** A scalar that valves, modes and lags may listen to. */
export interface Signal {
  readonly kind: "pressure" | "control" | "mode" | "product" | "lag" | "water" | "atmosphere";
  readonly index: number;
}

/** Linear mix of signals: `offset + sum weight * signal`. */
export interface Mix {
  readonly terms: readonly { readonly of: Signal; readonly weight: number }[];
  readonly offset: number;
}

/**
 * Opening of a valve seat: 0 while the mix is below zero, 1 when it is above `width`, the smooth step between.
 * With `greatest`, the larger of its two mixes is added to `mix` first (pilot pistons that push on one another).
 */
export interface Gate {
  readonly mix: Mix;
  readonly greatest?: readonly [Mix, Mix];
  /** Sign with which the greater of the two is added; -1 where the pilots push the seat shut. Default 1. */
  readonly sign?: 1 | -1;
  readonly width: number;
}

/** How an air volume exchanges heat with its wall. */
export type WallHeat =
  | { readonly kind: "natural"; readonly areaM2: number; readonly lengthM: number }
  | { readonly kind: "constant"; readonly conductanceWPerK: number };

export interface NodeSpec {
  readonly name: string;
  /** Rigid volume; of a chamber, the volume at zero stroke. */
  readonly volumeM3: number;
  /** Isothermal nodes have no mass state: their air is at wall temperature. */
  readonly isothermal: boolean;
  readonly wallTemperatureK: number;
  readonly heat: WallHeat;
  /** Water standing in the volume takes its place. */
  readonly water?: number;
}

/** Piecewise linear stroke against rod force: first point where the rod starts to move (stroke 0), last where it bottoms. */
export interface StrokeLaw {
  readonly forceN: readonly number[];
  readonly strokeM: readonly number[];
}

export interface ChamberSpec {
  readonly name: string;
  readonly serviceNode: number;
  readonly areaM2: number;
  readonly law: StrokeLaw;
  readonly returnSpring: { readonly preloadN: number; readonly rateNPerM: number };
  readonly spring?: {
    readonly node: number;
    readonly areaM2: number;
    /** Power spring force at zero stroke, and its rate. */
    readonly forceN: number;
    readonly rateNPerM: number;
    readonly maximumStrokeM: number;
  };
}

export interface OrificeSpec {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  /** Sonic conductance, m3/(s Pa), and critical ratio, after ISO 6358. */
  readonly conductance: number;
  readonly criticalRatio: number;
  readonly gates: readonly Gate[];
  /** Signals that multiply the conductance; only controls, modes and products, so that they are constant within a step. */
  readonly factors: readonly Signal[];
}

export interface CompressorSpec {
  readonly name: string;
  readonly to: number;
  readonly displacementM3: number;
  readonly clearanceRatio: number;
  readonly intakePressurePa: number;
  readonly intakeTemperatureK: number;
  /** Shaft speed, rev/min: ratio times this signal. */
  readonly speed: Signal;
  readonly speedRatio: number;
  readonly factors: readonly Signal[];
}

export interface ControlSpec {
  readonly id: string;
  /** `ramp`: linear from tick to tick. `step`: jumps at its tick. `command`: writes a mode, which may then move by itself. */
  readonly kind: "ramp" | "step" | "command";
  readonly minimum: number;
  readonly maximum: number;
  readonly initial: number;
  readonly unit: string;
  /** Control value to the quantity the seats feel, piecewise linear, one output signal per curve. */
  readonly curves?: readonly { readonly at: readonly number[]; readonly gives: readonly number[] }[];
}

export interface ModeSpec {
  readonly id: string;
  readonly initial: 0 | 1;
  /** Goes to 1 when this mix rises to zero or above; to 0 likewise. */
  readonly turnsOn?: Mix;
  readonly turnsOff?: Mix;
  /** A command control that writes this mode. */
  readonly command?: number;
  /** Commanded on while this mix is below zero, it springs straight back. */
  readonly stays?: Mix;
  /** Modes that must be 1 for this one to stay 1. */
  readonly needs: readonly number[];
  readonly onText: string;
  readonly offText: string;
}

/** Derived constant: sum of products of controls and modes, evaluated whenever one of them changes. */
export interface ProductSpec {
  readonly name: string;
  readonly terms: readonly { readonly weight: number; readonly factors: readonly Signal[] }[];
  readonly minimum: number;
}

/** First-order lag: value' = (mix - value) / timeConstant. */
export interface LagSpec {
  readonly name: string;
  readonly mix: Mix;
  readonly timeConstantS: number;
  readonly initial: number | "mix";
  /** Whether valves or compressors listen to it; a gauge's needle feeds nothing back. */
  readonly feedsBack: boolean;
  /** Size of one unit of interest, for the error control of lags that feed back. */
  readonly scale: number;
}

export interface WaterSpec {
  readonly node: number;
  readonly initialM3: number;
  readonly drain: Signal;
  /** Discharge coefficient times area of the drain, m2. */
  readonly drainAreaM2: number;
}

export type ChannelSource =
  | { readonly of: "gaugePressure"; readonly node: number }
  | { readonly of: "temperature"; readonly node: number }
  | { readonly of: "signal"; readonly signal: Signal; readonly scale: number; readonly offset: number }
  | { readonly of: "flow"; readonly orifices: readonly { readonly index: number; readonly sign: number }[] }
  | { readonly of: "compressorFlow"; readonly index: number }
  | { readonly of: "stroke" | "rodForce" | "springForce" | "springStroke"; readonly chamber: number }
  | { readonly of: "opening"; readonly orifice: number }
  | { readonly of: "threshold"; readonly any: readonly Mix[]; readonly whileOn?: Signal }
  | {
      readonly of: "needle";
      readonly lag: Signal;
      readonly offset: number;
      readonly gain: number;
      readonly resolution: number;
      readonly whileOn?: Signal;
    }
  | { readonly of: "totalMass" };

export interface ChannelSpec {
  readonly id: string;
  readonly kind: "truth" | "reading";
  readonly unit: string;
  readonly source: ChannelSource;
}

/** An instant worth writing down: the mix rises or falls through zero. It never changes the run. */
export interface WatchSpec {
  readonly id: string;
  readonly mix: Mix;
  readonly risingText: string;
  readonly fallingText: string;
}

export interface EngineModel {
  readonly atmosphere: { readonly pressurePa: number; readonly temperatureK: number };
  readonly nodes: readonly NodeSpec[];
  readonly chambers: readonly ChamberSpec[];
  readonly orifices: readonly OrificeSpec[];
  readonly compressors: readonly CompressorSpec[];
  readonly controls: readonly ControlSpec[];
  readonly modes: readonly ModeSpec[];
  readonly products: readonly ProductSpec[];
  readonly lags: readonly LagSpec[];
  readonly waters: readonly WaterSpec[];
  readonly watches: readonly WatchSpec[];
  readonly channels: readonly ChannelSpec[];
}

/** Node number that stands for the open air. */
export const ATMOSPHERE = -1;
