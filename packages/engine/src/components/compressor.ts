import { mix } from "../model/network.ts";
import type { Network, Port, Signal } from "./shared.ts";

/**
 * Reciprocating compressor: Q = Vd N B(N) (1 + c - c (p_d / p_s)^(1/n)) of intake air, delivered at T_s (p_d / p_s)^((n-1)/n),
 * n = 1.3. Unloaded, its inlet is held open and it moves nothing.
 * @source [PhysicsAir] 2.1; numerics/compression.ts gives the powers and B(N)
 */
export interface CompressorParams {
  readonly displacementM3: number;
  /** Clearance volume over displacement. */
  readonly clearanceRatio: number;
  /** Pressure lost in the intake, Pa: filter and pipe. */
  readonly intakeLossPa: number;
  readonly intakeTemperatureK: number;
}

export interface EngineDrivenParams extends CompressorParams {
  /** Compressor revolutions per engine revolution. */
  readonly speedRatio: number;
}

export function addCompressor(
  net: Network,
  name: string,
  ports: { discharge: Port; speed: Signal; loaded: Signal; health: readonly Signal[] },
  params: EngineDrivenParams,
): void {
  net.compressor({
    name,
    to: ports.discharge.node,
    displacementM3: params.displacementM3,
    clearanceRatio: params.clearanceRatio,
    intakePressurePa: net.ambient.pressurePa - params.intakeLossPa,
    intakeTemperatureK: params.intakeTemperatureK,
    speed: ports.speed,
    speedRatio: params.speedRatio,
    factors: [ports.loaded, ...ports.health],
  });
}

/** Motor-driven compressor with a duty limit: a winding warms while it runs, stops it when hot and lets it go when cool again. */
export interface ElectricCompressorParams extends CompressorParams {
  readonly ratedRpm: number;
  readonly runUpS: number;
  /** Warming and cooling time constant, s; warmth is 0 cold and would reach 1 if it ran for ever. */
  readonly warmingS: number;
  readonly stopsAtWarmth: number;
  readonly restartsAtWarmth: number;
}

export function addElectricCompressor(
  net: Network,
  name: string,
  ports: { discharge: Port; wanted: Signal; key: Signal; health: readonly Signal[] },
  params: ElectricCompressorParams,
): { motorRuns: Signal; cool: Signal } {
  const warmthAt = { kind: "lag" as const, index: net.nextLag };
  const cool = net.mode({
    id: `${name}.cool`,
    initial: 1,
    turnsOn: mix(params.restartsAtWarmth, [warmthAt, -1]),
    turnsOff: mix(-params.stopsAtWarmth, [warmthAt, 1]),
    needs: [],
    onText: "compressor motor has cooled and may run",
    offText: "compressor motor too hot: stopped",
  });
  const motorRuns = net.product({
    name: `${name}.runs`,
    minimum: 0,
    terms: [{ weight: 1, factors: [cool, ports.wanted, ports.key] }],
  });
  net.lag({
    name: `${name}.warmth`,
    mix: mix(0, [motorRuns, 1]),
    timeConstantS: params.warmingS,
    initial: 0,
    feedsBack: true,
    scale: 1,
  });
  const speed = net.lag({
    name: `${name}.speed`,
    mix: mix(0, [motorRuns, params.ratedRpm]),
    timeConstantS: params.runUpS,
    initial: "mix",
    feedsBack: true,
    scale: 100,
  });
  net.channel(`${name}.warmth`, "truth", "", { of: "signal", signal: warmthAt, scale: 1, offset: 0 });
  net.channel(`${name}.speed`, "truth", "rpm", { of: "signal", signal: speed, scale: 1, offset: 0 });
  addCompressor(
    net,
    name,
    { discharge: ports.discharge, speed, loaded: ports.wanted, health: ports.health },
    { ...params, speedRatio: 1 },
  );
  return { motorRuns, cool };
}
