import type { FlowSize, Network, Port } from "./shared.ts";

/** Declares `NAME` as a load on an auxiliary circuit: doors, air springs. At 1 it lets air out through `size`. */
export function addAuxiliaryLoad(net: Network, name: string, port: Port, size: FlowSize): void {
  const use = net.control({ id: name, kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0];
  const load = net.orifice(`load.${name}`, port, net.atmosphere, size, { factors: [use] });
  net.flowChannel(`load.${name}`, [load, 1]);
}
