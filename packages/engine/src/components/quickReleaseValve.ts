import { mix, seat } from "../model/network.ts";
import type { FlowSize, Network, Port, Signal } from "./shared.ts";

/** Quick-release valve: air goes in past a diaphragm; when the line falls below the chamber, the chamber empties at the valve. */
export interface QuickReleaseParams {
  readonly crackPa: number;
  readonly seatPa: number;
  /** Per chamber. */
  readonly inlet: FlowSize;
  readonly exhaust: FlowSize;
}

/** Shows `flow.NAME.OUTLET` (into the chamber, negative on release). `exhaustHealth` of 0 is an exhaust frozen shut. */
export function addQuickReleaseValve(
  net: Network,
  name: string,
  ports: { line: Port; outlets: Readonly<Record<string, Port>>; exhaustHealth?: Signal },
  params: QuickReleaseParams,
): void {
  const exhausts: (readonly [ReturnType<Network["orifice"]>, number])[] = [];
  for (const [outlet, port] of Object.entries(ports.outlets)) {
    const inlet = net.orifice(`${name}.${outlet}.inlet`, ports.line, port, params.inlet, {
      gates: [seat(params.seatPa, mix(-params.crackPa, [ports.line.pressure, 1], [port.pressure, -1]))],
    });
    const exhaust = net.orifice(`${name}.${outlet}.exhaust`, port, net.atmosphere, params.exhaust, {
      gates: [seat(params.seatPa, mix(0, [ports.line.pressure, -1], [port.pressure, 1]))],
      factors: ports.exhaustHealth ? [ports.exhaustHealth] : [],
    });
    // At rest the exhaust stands open: a rod that a spring pulls out draws air in here.
    const breath = net.orifice(`${name}.${outlet}.breath`, net.atmosphere, port, params.exhaust, {
      gates: [
        seat(params.seatPa, mix(0, [net.atmosphere.pressure, 1], [port.pressure, -1])),
        seat(params.seatPa, mix(params.seatPa, [net.atmosphere.pressure, 1], [ports.line.pressure, -1])),
      ],
      factors: ports.exhaustHealth ? [ports.exhaustHealth] : [],
    });
    exhausts.push([exhaust, 1]);
    net.flowChannel(`${name}.${outlet}`, [inlet, 1], [exhaust, -1], [breath, 1]);
  }
  net.flowChannel(`${name}.exhaust`, ...exhausts);
}
