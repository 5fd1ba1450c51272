import type { StartState } from "@brakeyard/engine";

/** What a start says of one tank. Gauge pressure. */
export interface TankStart {
  readonly gaugePa: number;
  readonly temperatureK?: number;
}

/** What decides the pressures everywhere at the start, beside the tanks themselves. */
export interface StartInput {
  /** Gauge pressure of a tank, Pa. */
  tank(name: string): number;
  /** Whether the compressor is loaded, which is whether discharge line and dryer hold air. */
  readonly loaded: boolean;
  readonly parkingIn: boolean;
  readonly trailerSupplyIn: boolean;
}

/** Gauge pressure of a node at rest, pedal up, from what the start says. */
export type Rest = (start: StartInput) => number;

/** Nothing but the open air. */
export const EMPTY: Rest = () => 0;

/** How a run is to begin. Tanks not named are empty. */
export interface StartRequest {
  readonly tanks?: Readonly<Record<string, TankStart>>;
  /** Pressure of every tank not named, Pa gauge. */
  readonly otherTanksPa?: number;
  /** Engine turning at this speed; 0 or nothing: stopped. */
  readonly engineRpm?: number;
  /** 1 on; on by itself when the engine runs. */
  readonly key?: 0 | 1;
  readonly parking?: "in" | "out";
  readonly trailerSupply?: "in" | "out";
  /** Whether the governor has the compressor loaded; unless given, it has below cut-out. */
  readonly loaded?: boolean;
  readonly chocks?: 0 | 1;
}

/** What the assembled vehicle knows about starting. */
export interface StartKnowledge {
  readonly rests: ReadonlyMap<string, Rest>;
  readonly tanks: readonly string[];
  readonly controls: readonly string[];
  readonly modes: readonly string[];
  /** Where the governor looks, and its cut-out, Pa gauge; null without a compressor. */
  readonly governor: { readonly sensed: Rest; readonly cutOutPa: number } | null;
}

/**
 * Start values for the engine: every node at the pressure at which it would rest, so that nothing moves by itself at time zero.
 * @throws RangeError naming a tank that is not there
 */
export function startState(known: StartKnowledge, request: StartRequest): StartState {
  for (const name of Object.keys(request.tanks ?? {})) {
    if (!known.tanks.includes(name))
      throw new RangeError(`there is no tank "${name}"; there are ${known.tanks.join(", ")}`);
  }
  const input = startInput(known, request);
  const nodes: Record<string, { gaugePressurePa: number; temperatureK?: number }> = {};
  for (const [node, rest] of known.rests) {
    const temperatureK = request.tanks?.[node]?.temperatureK;
    nodes[node] = { gaugePressurePa: rest(input), ...(temperatureK !== undefined && { temperatureK }) };
  }
  return {
    nodes,
    controls: startControls(known, request),
    modes: startModes(known, request, input),
    lags: startLags(known, request),
  };
}

function startInput(known: StartKnowledge, request: StartRequest): StartInput {
  const tank = (name: string) => request.tanks?.[name]?.gaugePa ?? request.otherTanksPa ?? 0;
  const before = {
    tank,
    loaded: true,
    parkingIn: request.parking === "in",
    trailerSupplyIn: request.trailerSupply === "in",
  };
  if (!known.governor) return before;
  return { ...before, loaded: request.loaded ?? known.governor.sensed(before) < known.governor.cutOutPa };
}

function startControls(known: StartKnowledge, request: StartRequest): Record<string, number> {
  const running = (request.engineRpm ?? 0) > 0;
  const wanted: Record<string, number | undefined> = {
    key: request.key ?? (running ? 1 : 0),
    throttle: request.engineRpm,
    chocks: request.chocks,
  };
  const there = Object.entries(wanted).filter(([id, value]) => value !== undefined && known.controls.includes(id));
  return Object.fromEntries(there) as Record<string, number>;
}

function startModes(known: StartKnowledge, request: StartRequest, input: StartInput): Record<string, 0 | 1> {
  const wanted: Record<string, boolean> = {
    "engine.running": (request.engineRpm ?? 0) > 0,
    "governor.loaded": input.loaded,
    "control.parking": input.parkingIn,
    "control.trailerSupply": input.trailerSupplyIn,
  };
  const there = Object.entries(wanted).filter(([id]) => known.modes.includes(id));
  return Object.fromEntries(there.map(([id, on]) => [id, on ? 1 : 0]));
}

function startLags(known: StartKnowledge, request: StartRequest): Record<string, number> {
  return known.modes.includes("engine.running") ? { "engine.speed": request.engineRpm ?? 0 } : {};
}
