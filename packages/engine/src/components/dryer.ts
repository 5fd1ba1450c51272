import type { WallHeat } from "../model/model.ts";
import { mix, seat } from "../model/network.ts";
import { addCheckValve, type CheckValveParams } from "./checkValve.ts";
import type { FlowSize, Network, Port, Signal } from "./shared.ts";

/**
 * Discharge line and air dryer. Air passes the sump and the desiccant into a purge volume, then a check valve to the supply tank.
 * While the compressor is unloaded the purge valve stands open: the sump empties at once, and the purge volume blows back through a small
 * orifice. So the drop at purge is in sump and purge volume only.
 */
export interface DryerParams {
  /** Discharge line and sump together. */
  readonly sumpVolumeM3: number;
  readonly dischargeHeat: WallHeat;
  readonly purgeVolumeM3: number;
  readonly purgeHeat: WallHeat;
  readonly through: FlowSize;
  readonly purgeValve: FlowSize;
  readonly purgeReturn: FlowSize;
  readonly outletCheck: CheckValveParams;
}

export function addDryer(
  net: Network,
  name: string,
  ports: { outlet: Port; loaded: Signal; purgeStuckOpen?: Signal },
  params: DryerParams,
): { discharge: Port; purgeVolume: Port } {
  const discharge = net.volume(`${name}.sump`, { volumeM3: params.sumpVolumeM3, heat: params.dischargeHeat });
  const purgeVolume = net.volume(`${name}.purgeVolume`, { volumeM3: params.purgeVolumeM3, heat: params.purgeHeat });
  const forward = mix(0, [discharge.pressure, 1], [purgeVolume.pressure, -1]);
  const back = mix(0, [discharge.pressure, -1], [purgeVolume.pressure, 1]);
  const through = net.orifice(`${name}.through`, discharge, purgeVolume, params.through, {
    gates: [seat(7000, forward)],
  });
  const purgeReturn = net.orifice(`${name}.return`, purgeVolume, discharge, params.purgeReturn, {
    gates: [seat(7000, back)],
  });
  const stuck = ports.purgeStuckOpen;
  const open = net.product({
    name: `${name}.purgeOpen`,
    minimum: 0,
    terms: [
      { weight: 1, factors: [] },
      { weight: -1, factors: [ports.loaded] },
      ...(stuck ? [{ weight: 1, factors: [ports.loaded, stuck] }] : []),
    ],
  });
  const purge = net.orifice(`${name}.purge`, discharge, net.atmosphere, params.purgeValve, { factors: [open] });
  addCheckValve(net, `${name}.outlet`, { from: purgeVolume, to: ports.outlet }, params.outletCheck);
  net.flowChannel(`${name}.purge`, [purge, 1]);
  net.flowChannel(`${name}.through`, [through, 1], [purgeReturn, -1]);
  return { discharge, purgeVolume };
}
