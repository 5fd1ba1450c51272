import { seat } from "../model/network.ts";
import { type FlowSize, gauge, type Network, type Port } from "./shared.ts";

/** Pressure regulator: passes air while its outlet stands below the set pressure, fully open `widthPa` lower. Gauge Pa. */
export interface RegulatorParams {
  readonly setPa: number;
  readonly widthPa: number;
  readonly size: FlowSize;
}

export function addRegulator(
  net: Network,
  name: string,
  ports: { from: Port; to: Port },
  params: RegulatorParams,
): void {
  const path = net.orifice(name, ports.from, ports.to, params.size, {
    gates: [seat(params.widthPa, gauge(net, ports.to, params.setPa, -1))],
  });
  net.flowChannel(name, [path, 1]);
}
