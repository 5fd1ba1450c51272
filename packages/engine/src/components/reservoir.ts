import type { WallHeat } from "../model/model.ts";
import { mix, seat } from "../model/network.ts";
import type { FlowSize, Network, Port } from "./shared.ts";

/** A tank, one compartment of a divided one, or any rigid store. Water in it takes its place; the drain lets it out before the air. */
export interface ReservoirParams {
  readonly volumeM3: number;
  readonly heat: WallHeat;
  readonly waterM3: number;
  readonly drain: FlowSize;
}

/** Water film at which the drain changes from water to air, m3; the same as the engine's water law uses. */
const FILM_M3 = 2e-6;
/** Discharge coefficient times area of an orifice from its sonic conductance: C [dm3/(s bar)] = 0.199 Cd A [mm2]. @source [PhysicsAir] 1.2 */
const AREA_PER_CONDUCTANCE = 1e-6 / 0.199e-8;

/** Declares `drain.NAME` (0 shut, 1 open). */
export function addReservoir(net: Network, name: string, params: ReservoirParams): Port {
  const open = net.control({ id: `drain.${name}`, kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0];
  const tank = net.volume(name, {
    volumeM3: params.volumeM3,
    heat: params.heat,
    waterM3: params.waterM3,
    drain: open,
    drainAreaM2: params.drain.conductance * AREA_PER_CONDUCTANCE,
  });
  const water = { kind: "water" as const, index: net.lastWater };
  const air = net.orifice(`${name}.drain`, tank, net.atmosphere, params.drain, {
    gates: [seat(FILM_M3, mix(FILM_M3, [water, -1]))],
    factors: [open],
  });
  net.flowChannel(`${name}.drain`, [air, 1]);
  return tank;
}
