import { mix, type Orifice, seat } from "../model/network.ts";
import type { FlowSize, Network, Port, Signal } from "./shared.ts";

/** One-way valve: begins to open `crackPa` above its far side and is fully open `openingPa` later. */
export interface CheckValveParams {
  readonly size: FlowSize;
  readonly crackPa: number;
  readonly openingPa: number;
}

/** Shows its flow as `flow.NAME`. `failed` of 1 holds it open, so that air passes both ways. */
export function addCheckValve(
  net: Network,
  name: string,
  ports: { from: Port; to: Port; failed?: Signal },
  params: CheckValveParams,
): Orifice {
  const lift = mix(-params.crackPa, [ports.from.pressure, 1], [ports.to.pressure, -1]);
  const valve = net.orifice(name, ports.from, ports.to, params.size, { gates: [seat(params.openingPa, lift)] });
  if (ports.failed) {
    const held = net.orifice(`${name}.failed`, ports.from, ports.to, params.size, { factors: [ports.failed] });
    net.flowChannel(name, [valve, 1], [held, 1]);
  } else net.flowChannel(name, [valve, 1]);
  return valve;
}
