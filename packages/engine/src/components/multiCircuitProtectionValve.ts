import type { Mix } from "../model/model.ts";
import { mix, seat } from "../model/network.ts";
import type { FlowSize, Network, Port } from "./shared.ts";

/**
 * Multi-circuit protection valve: one spring-loaded seat per circuit. The source pushes a seat open on a share of its area and
 * the circuit behind it on the rest, so a circuit that holds air opens at its static pressure and an empty one only at static / share: what
 * a burst circuit leaves to the others. Gauge pressures, Pa.
 */
export interface MultiCircuitParams {
  /** Opening pressure of a seat whose circuit holds the same pressure. */
  readonly staticPa: number;
  /** Share of the seat on which the source acts, 0..1. */
  readonly sourceShare: number;
  /** Travel of pressure from shut to wide open. */
  readonly openingPa: number;
  readonly oneWay: boolean;
  readonly size: FlowSize;
}

/** Pressure at which a seat shuts when its circuit is burst (holds none): static / share. */
export function burstClosingPressurePa(params: MultiCircuitParams): number {
  return params.staticPa / params.sourceShare;
}

/** Shows `flow.NAME.CIRCUIT` for each circuit. */
export function addMultiCircuitProtectionValve(
  net: Network,
  name: string,
  ports: {
    source: Port;
    circuits: Readonly<Record<string, Port>>;
    /** Where a seat feels its circuit: the tank behind it. A short pipe alone would let it snap open and shut without end. */
    sensed?: Readonly<Record<string, Port>>;
  },
  params: MultiCircuitParams,
): void {
  const { staticPa, sourceShare } = params;
  if (!(sourceShare > 0 && sourceShare < 1)) throw new RangeError(`${name}: source share must lie between 0 and 1`);
  for (const [circuit, port] of Object.entries(ports.circuits)) {
    const felt = ports.sensed?.[circuit] ?? port;
    const lift: Mix = mix(
      -staticPa,
      [ports.source.pressure, sourceShare],
      [felt.pressure, 1 - sourceShare],
      [net.atmosphere.pressure, -1],
    );
    const gates = [seat(params.openingPa, lift)];
    if (params.oneWay) gates.push(seat(7000, mix(0, [ports.source.pressure, 1], [port.pressure, -1])));
    const path = net.orifice(`${name}.${circuit}`, ports.source, port, params.size, { gates });
    net.flowChannel(`${name}.${circuit}`, [path, 1]);
  }
}
