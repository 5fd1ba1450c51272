import { mix } from "../model/network.ts";
import { DECIDES, type Network, type Port, type Signal } from "./shared.ts";

/** Governor or pressure switch: unloads the compressor at cut-out, loads it again at cut-in. Gauge pressures, Pa. */
export interface GovernorParams {
  readonly cutInPa: number;
  readonly cutOutPa: number;
}

/** Returns the mode `NAME.loaded`: 1 while the compressor is to pump. `stuckLoaded` and `stuckUnloaded` of 1 hold it there. */
export function addGovernor(
  net: Network,
  name: string,
  ports: { sensed: Port; stuckLoaded?: Signal; stuckUnloaded?: Signal },
  params: GovernorParams,
): Signal {
  if (!(params.cutInPa < params.cutOutPa)) throw new RangeError(`${name}: cut-in must lie below cut-out`);
  const air = net.atmosphere.pressure;
  const sensed = ports.sensed.pressure;
  const stuck = (weight: number): [Signal, number][] => [
    ...(ports.stuckLoaded ? [[ports.stuckLoaded, weight] as [Signal, number]] : []),
    ...(ports.stuckUnloaded ? [[ports.stuckUnloaded, -weight] as [Signal, number]] : []),
  ];
  return net.mode({
    id: `${name}.loaded`,
    initial: 1,
    turnsOn: mix(params.cutInPa, [sensed, -1], [air, 1], ...stuck(DECIDES)),
    turnsOff: mix(-params.cutOutPa, [sensed, 1], [air, -1], ...stuck(-DECIDES)),
    needs: [],
    onText: "governor cuts in: compressor loaded",
    offText: "governor cuts out: compressor unloaded",
  });
}
