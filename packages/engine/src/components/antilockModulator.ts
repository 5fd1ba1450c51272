import { type FlowSize, type Network, not, type Port } from "./shared.ts";

/** Antilock modulator: holds the line to a chamber shut, or lets the chamber down, as two signals say. Unpowered it is an open pipe. */
export interface ModulatorParams {
  readonly through: FlowSize;
  readonly exhaust: FlowSize;
}

/** Declares `modulator.NAME.hold` and `.dump`, both 0..1. */
export function addAntilockModulator(
  net: Network,
  name: string,
  ports: { inlet: Port; outlet: Port },
  params: ModulatorParams,
): void {
  const port = (which: string) =>
    net.control({ id: `modulator.${name}.${which}`, kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0];
  const hold = port("hold");
  const dump = port("dump");
  const through = net.orifice(`modulator.${name}`, ports.inlet, ports.outlet, params.through, {
    factors: [not(net, `modulator.${name}.open`, hold)],
  });
  const exhaust = net.orifice(`modulator.${name}.exhaust`, ports.outlet, net.atmosphere, params.exhaust, {
    factors: [dump],
  });
  net.flowChannel(`modulator.${name}`, [through, 1], [exhaust, -1]);
}
