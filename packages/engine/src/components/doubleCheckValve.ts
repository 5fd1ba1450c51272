import { mix, seat } from "../model/network.ts";
import type { FlowSize, Network, Port } from "./shared.ts";

/**
 * Double check valve: passes the higher of two pressures, in both directions, and shuts the other side off. Its shuttle travels over
 * {@link DoubleCheckParams.travelPa} of difference; at balance both sides are slightly open, so that air is never trapped behind it.
 */
export interface DoubleCheckParams {
  readonly size: FlowSize;
  /** Pressure difference over which a side goes from shut to open, Pa. */
  readonly travelPa: number;
}

/** Each side is still wide open at balance and shut one travel below the other: the overlap, in travels. */
const OVERLAP = 1;

/** Shows `flow.NAME.first|second`. */
export function addDoubleCheckValve(
  net: Network,
  name: string,
  ports: { first: Port; second: Port; outlet: Port },
  params: DoubleCheckParams,
): void {
  const side = (which: string, from: Port, other: Port): void => {
    const path = net.orifice(`${name}.${which}`, from, ports.outlet, params.size, {
      gates: [seat(params.travelPa, mix(OVERLAP * params.travelPa, [from.pressure, 1], [other.pressure, -1]))],
    });
    net.flowChannel(`${name}.${which}`, [path, 1]);
    net.channel(`opening.${name}.${which}`, "truth", "", { of: "opening", orifice: path.index });
  };
  side("first", ports.first, ports.second);
  side("second", ports.second, ports.first);
}
