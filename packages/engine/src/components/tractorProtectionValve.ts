import { seat } from "../model/network.ts";
import { type FlowSize, gauge, type Network, type Port, type Signal } from "./shared.ts";

/** Tractor protection valve: opens the service line to the trailer only while the trailer supply line holds air. Gauge pressure, Pa. */
export interface TractorProtectionParams {
  readonly closesPa: number;
  readonly opensPa: number;
  readonly size: FlowSize;
}

/** `failed` of 1 holds it open. */
export function addTractorProtectionValve(
  net: Network,
  name: string,
  ports: { service: Port; coupling: Port; supply: Port; failed?: Signal },
  params: TractorProtectionParams,
): void {
  if (!(params.closesPa < params.opensPa)) throw new RangeError(`${name}: must close below its opening pressure`);
  const open = seat(params.opensPa - params.closesPa, gauge(net, ports.supply, -params.closesPa));
  const path = net.orifice(name, ports.service, ports.coupling, params.size, { gates: [open] });
  net.channel(`opening.${name}`, "truth", "", { of: "opening", orifice: path.index });
  if (ports.failed) {
    const held = net.orifice(`${name}.failed`, ports.service, ports.coupling, params.size, { factors: [ports.failed] });
    net.flowChannel(name, [path, 1], [held, 1]);
  } else net.flowChannel(name, [path, 1]);
}
