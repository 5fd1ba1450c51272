import { mix } from "../model/network.ts";
import { DECIDES, type Network, type Signal } from "./shared.ts";

/** The vehicle's engine as the air system knows it: a shaft speed that follows key, starter and throttle. */
export interface EngineSpeedParams {
  readonly idleRpm: number;
  readonly maximumRpm: number;
  readonly crankRpm: number;
  /** Speed above which the engine runs by itself. */
  readonly firesAtRpm: number;
  readonly timeConstantS: number;
}

export interface EngineSpeedPorts {
  readonly key: Signal;
  /** Shaft speed, rev/min. */
  readonly speed: Signal;
  readonly running: Signal;
}

/**
 * Controls `key` (0 off, 1 on), `starter` (1 while held) and `throttle` (rev/min asked for; below idle means idle).
 * Speed follows its target with one time constant; the engine runs on once cranked past `firesAtRpm` and stops with the key.
 */
export function addEngineSpeed(net: Network, params: EngineSpeedParams): EngineSpeedPorts {
  const { idleRpm, maximumRpm } = params;
  const key = net.control({ id: "key", kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0];
  const starter = net.control({ id: "starter", kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0];
  const throttle = net.control({
    id: "throttle",
    kind: "step",
    minimum: 0,
    maximum: maximumRpm,
    initial: 0,
    unit: "rpm",
    curves: [{ at: [0, idleRpm, maximumRpm], gives: [idleRpm, idleRpm, maximumRpm] }],
  })[0];
  const speedAt = { kind: "lag" as const, index: net.nextLag };
  const running = net.mode({
    id: "engine.running",
    initial: 0,
    turnsOn: mix(-params.firesAtRpm - 2 * DECIDES, [speedAt, 1], [starter, DECIDES], [key, DECIDES]),
    turnsOff: mix(0.5, [key, -1]),
    needs: [],
    onText: "engine runs",
    offText: "engine stops",
  });
  const target = net.product({
    name: "engine.target",
    minimum: 0,
    terms: [
      { weight: params.crankRpm, factors: [key, starter] },
      { weight: -params.crankRpm, factors: [key, starter, running] },
      { weight: 1, factors: [running, throttle] },
    ],
  });
  const speed = net.lag({
    name: "engine.speed",
    mix: mix(0, [target, 1]),
    timeConstantS: params.timeConstantS,
    initial: "mix",
    feedsBack: true,
    scale: 100,
  });
  net.channel("engine.speed", "truth", "rpm", { of: "signal", signal: speed, scale: 1, offset: 0 });
  return { key, speed, running };
}
