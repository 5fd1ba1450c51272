import { mix, seat } from "../model/network.ts";
import type { FlowSize, Network, Port } from "./shared.ts";

/**
 * Double check valve: passes the higher of two pressures, in both directions, and shuts the other side off; level sides are both open.
 * Air comes forward as through a check valve, and goes back only while the outlet stands above both sides. So nothing is trapped behind it,
 * and neither circuit can lose air through it to the other, however slowly it falls.
 */
export interface DoubleCheckParams {
  readonly size: FlowSize;
  /** Pressure difference over which a side goes from shut to open, Pa. */
  readonly travelPa: number;
}

/** Shows `flow.NAME.first|second` (into the outlet) and `opening.NAME.first|second` (1 unless that side is shut off). */
export function addDoubleCheckValve(
  net: Network,
  name: string,
  ports: { first: Port; second: Port; outlet: Port },
  params: DoubleCheckParams,
): void {
  const { size, travelPa } = params;
  const out = ports.outlet.pressure;
  const side = (which: string, own: Port, other: Port): void => {
    const higher = mix(travelPa, [own.pressure, 1], [other.pressure, -1]);
    const feed = net.orifice(`${name}.${which}`, own, ports.outlet, size, {
      gates: [seat(travelPa, mix(0, [own.pressure, 1], [out, -1])), seat(travelPa, higher)],
    });
    const back = net.orifice(`${name}.${which}.back`, ports.outlet, own, size, {
      gates: [
        seat(travelPa, mix(0, [out, 1], [own.pressure, -1])),
        seat(travelPa, mix(0, [out, 1], [other.pressure, -1])),
        seat(travelPa, higher),
      ],
    });
    net.flowChannel(`${name}.${which}`, [feed, 1], [back, -1]);
    net.channel(`opening.${name}.${which}`, "truth", "", { of: "threshold", any: [higher] });
  };
  side("first", ports.first, ports.second);
  side("second", ports.second, ports.first);
}
