import { type FlowSize, gauge, type Network, type Port } from "./shared.ts";

/** Pops open at its set pressure and reseats below it. Gauge pressures, Pa. */
export interface SafetyValveParams {
  readonly opensPa: number;
  readonly reseatsPa: number;
  readonly size: FlowSize;
}

export function addSafetyValve(net: Network, name: string, ports: { from: Port }, params: SafetyValveParams): void {
  if (!(params.reseatsPa < params.opensPa)) throw new RangeError(`${name}: must reseat below its opening pressure`);
  const open = net.mode({
    id: `${name}.open`,
    initial: 0,
    turnsOn: gauge(net, ports.from, -params.opensPa),
    turnsOff: gauge(net, ports.from, params.reseatsPa, -1),
    needs: [],
    onText: "safety valve blows",
    offText: "safety valve reseats",
  });
  const blow = net.orifice(name, ports.from, net.atmosphere, params.size, { factors: [open] });
  net.flowChannel(name, [blow, 1]);
}
