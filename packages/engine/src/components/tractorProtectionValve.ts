import { mix, seat } from "../model/network.ts";
import { type FlowSize, gauge, type Network, type Port, type Signal } from "./shared.ts";

/** Tractor protection valve: opens the service line to the trailer only while the trailer supply line holds air. Gauge pressure, Pa. */
export interface TractorProtectionParams {
  readonly closesPa: number;
  readonly opensPa: number;
  readonly size: FlowSize;
  /** Quick release for the trailer's service line: it empties here instead of back through the foot valve. */
  readonly quickRelease: FlowSize;
}

/** The quick release opens when the line stands this far above the tractor's side, and fully one seat later, Pa. */
const CRACK_PA = 3000;
const SEAT_PA = 7000;

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
  const release = net.orifice(`${name}.exhaust`, ports.coupling, net.atmosphere, params.quickRelease, {
    gates: [seat(SEAT_PA, mix(-CRACK_PA, [ports.coupling.pressure, 1], [ports.service.pressure, -1]))],
  });
  net.flowChannel(`${name}.exhaust`, [release, 1]);
  net.channel(`opening.${name}`, "truth", "", { of: "opening", orifice: path.index });
  if (ports.failed) {
    const held = net.orifice(`${name}.failed`, ports.service, ports.coupling, params.size, { factors: [ports.failed] });
    net.flowChannel(name, [path, 1], [held, 1]);
  } else net.flowChannel(name, [path, 1]);
}
