import type { Mix, Signal } from "../model/model.ts";
import { type FlowSize, mix, type Network, type Port } from "../model/network.ts";

/** One pound-force per square inch, Pa. */
export const PSI = 6894.757293168361;

/** A weight so large that a signal of 1 decides a trigger alone. */
export const DECIDES = 1e9;

/** Gauge pressure at a port: pressure less the open air. */
export function gauge(net: Network, port: Port, offset: number, weight = 1): Mix {
  return mix(offset, [port.pressure, weight], [net.atmosphere.pressure, -weight]);
}

/** 1 less a signal, for paths that a mode or cock closes. */
export function not(net: Network, name: string, signal: Signal): Signal {
  return net.product({
    name,
    minimum: 0,
    terms: [
      { weight: 1, factors: [] },
      { weight: -1, factors: [signal] },
    ],
  });
}

/** Either of two signals of 0..1: a + b - a b. */
export function either(net: Network, name: string, a: Signal, b: Signal): Signal {
  return net.product({
    name,
    minimum: 0,
    terms: [
      { weight: 1, factors: [a] },
      { weight: 1, factors: [b] },
      { weight: -1, factors: [a, b] },
    ],
  });
}

export type { FlowSize, Network, Port, Signal };
