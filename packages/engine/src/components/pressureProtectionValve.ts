import { mix, seat } from "../model/network.ts";
import { type FlowSize, gauge, type Network, type Port, type Signal } from "./shared.ts";

/**
 * Lets air pass to a circuit of lesser rank only while the source stands above its closing pressure; wide open at the opening pressure.
 * With `oneWay` air never comes back. Gauge pressures, Pa.
 */
export interface PressureProtectionParams {
  readonly closesPa: number;
  readonly opensPa: number;
  readonly oneWay: boolean;
  readonly size: FlowSize;
}

/** `failed` of 1 holds it open. Shows `flow.NAME`. */
export function addPressureProtectionValve(
  net: Network,
  name: string,
  ports: { from: Port; to: Port; failed?: Signal },
  params: PressureProtectionParams,
): void {
  if (!(params.closesPa < params.opensPa)) throw new RangeError(`${name}: must close below its opening pressure`);
  const gates = [seat(params.opensPa - params.closesPa, gauge(net, ports.from, -params.closesPa))];
  if (params.oneWay) gates.push(seat(7000, mix(0, [ports.from.pressure, 1], [ports.to.pressure, -1])));
  const valve = net.orifice(name, ports.from, ports.to, params.size, { gates });
  if (ports.failed) {
    const held = net.orifice(`${name}.failed`, ports.from, ports.to, params.size, { factors: [ports.failed] });
    net.flowChannel(name, [valve, 1], [held, 1]);
  } else net.flowChannel(name, [valve, 1]);
}
