/** Air round the vehicle. */
export interface Surroundings {
  readonly temperatureK: number;
  /** Absolute, Pa. */
  readonly pressurePa: number;
}

/** A hole in something, or a loss of pressure by the minute. */
export type LeakSize =
  | { readonly holeM: number }
  | {
      /** Fall of pressure, Pa/s, at `atGaugePa`. */
      readonly ratePaPerS: number;
      readonly atGaugePa: number;
      /** Volume whose pressure falls so; unless given, that of the tanks that the leak drains, those that feed them included. */
      readonly volumeM3?: number;
    };

/** What can be broken, each with what it needs to be said of it. `where` names a node, tank, chamber, axle or gauge. */
export type FaultWhat =
  | { readonly kind: "leak"; readonly where: string; readonly size: LeakSize }
  | { readonly kind: "burst"; readonly where: string; readonly boreM: number }
  | { readonly kind: "tornServiceDiaphragm"; readonly where: string; readonly size: LeakSize }
  | { readonly kind: "springSideLeak"; readonly where: string; readonly size: LeakSize }
  | { readonly kind: "governorStuckLoaded" }
  | { readonly kind: "governorStuckUnloaded" }
  | { readonly kind: "compressorWeak"; readonly lost: number }
  | { readonly kind: "purgeValveStuckOpen" }
  | { readonly kind: "checkValveStuckOpen"; readonly where: string }
  | { readonly kind: "protectionValveStuckOpen"; readonly where: string }
  | { readonly kind: "antiCompoundingFailed" }
  | { readonly kind: "parkingControlSticks" }
  | { readonly kind: "relayExhaustLeaks"; readonly where: string; readonly holeM: number }
  | { readonly kind: "relayCracksHigh"; readonly where: string; readonly byPa: number }
  | { readonly kind: "footValveExhaustBlocked"; readonly share: number }
  | { readonly kind: "quickReleaseFrozen"; readonly where: string }
  | { readonly kind: "supplyLineParted" }
  | { readonly kind: "serviceLineParted" }
  | { readonly kind: "linesCrossed" }
  | { readonly kind: "gaugeReadsHigh"; readonly where: string; readonly byPa: number }
  | { readonly kind: "lowAirSwitchDead"; readonly where: string }
  | { readonly kind: "lowAirSwitchLow"; readonly where: string; readonly closesBelowPa: number };

export type FaultKind = FaultWhat["kind"];

/** One fault with its name; it is in the model from the start, without effect until its control is moved. */
export type FaultSpec = FaultWhat & { readonly name: string };

/** Pressure regulator and tank that stand in for a tractor when a trailer is tested alone. SI, gauge. */
export interface Rig {
  readonly pressurePa: number;
  readonly tankM3: number;
}

export interface AssembleOptions {
  /** 20 C at sea level unless given. */
  readonly surroundings?: Surroundings;
  /** Holds all air at wall temperature, for cases that are derived so. */
  readonly isothermal?: boolean;
  readonly faults?: readonly FaultSpec[];
  /** Free strokes other than the vehicle's, m, by chamber such as `rear.left`. */
  readonly freeStrokesM?: Readonly<Record<string, number>>;
}

/** Thrown when a fault or setting names something that this vehicle does not have. */
export class AssemblyError extends Error {
  /** Name of the fault, or of the setting. */
  readonly subject: string;
  readonly remedy: string;
  constructor(subject: string, message: string, remedy: string) {
    super(message);
    this.name = "AssemblyError";
    this.subject = subject;
    this.remedy = remedy;
  }
}
