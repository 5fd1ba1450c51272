import type { Mix } from "../model/model.ts";
import { mix, seat } from "../model/network.ts";
import type { FlowSize, Network, Port, Signal } from "./shared.ts";

/**
 * Relay valve: a control pressure moves a piston that lets supply air into the delivery until both balance, and exhausts it
 * when the control falls. Delivery follows `gain * control - crack`; a gain a little over 1 makes the two equal near full pressure.
 * Two controls: the greater one counts (a spring brake relay that also sees the service delivery is anti-compounding).
 */
export interface RelayValveParams {
  /** Control pressure before the inlet cracks, Pa. */
  readonly crackPa: number;
  /** Width of the lap between inlet and exhaust, Pa; less than the crack pressure, so that release leaves nothing behind. */
  readonly hysteresisPa: number;
  /** Delivery gained per control pressure, from the ratio of piston areas. */
  readonly gain: number;
  readonly seatPa: number;
  readonly inlet: FlowSize;
  readonly exhaust: FlowSize;
}

export interface RelayValvePorts {
  readonly supply: Port;
  readonly control: Port;
  /** A second control; the greater counts. */
  readonly secondControl?: { readonly port: Port };
  readonly delivery: Port;
  /** Faults: a further crack pressure at 1 (Pa given), an exhaust seat that leaks (conductance given). */
  readonly stiff?: { readonly fault: Signal; readonly extraPa: number };
  readonly exhaustLeak?: { readonly fault: Signal; readonly size: FlowSize };
}

/** Shows `flow.NAME` (delivery, negative while it exhausts) and `flow.NAME.exhaust`. */
export function addRelayValve(net: Network, name: string, ports: RelayValvePorts, params: RelayValveParams): void {
  const { crackPa, hysteresisPa, gain } = params;
  if (!(hysteresisPa < crackPa))
    throw new RangeError(`${name}: hysteresis must be less than the crack pressure, or air stays in the chambers`);
  const air = net.atmosphere.pressure;
  const delivery = ports.delivery.pressure;
  const stiff = (sign: number): [Signal, number][] =>
    ports.stiff ? [[ports.stiff.fault, sign * ports.stiff.extraPa]] : [];
  const pilots = pilotPair(net, ports, gain);
  const one: [Signal, number][] = pilots
    ? []
    : [
        [ports.control.pressure, gain],
        [air, 1 - gain],
      ];
  const less: [Signal, number][] = one.map(([s, w]) => [s, -w]);
  const inlet = net.orifice(`${name}.inlet`, ports.supply, ports.delivery, params.inlet, {
    gates: [seat(params.seatPa, mix(-crackPa, ...one, [delivery, -1], ...stiff(-1)), pilots, 1)],
  });
  const exhaust = net.orifice(`${name}.exhaust`, ports.delivery, net.atmosphere, params.exhaust, {
    gates: [seat(params.seatPa, mix(crackPa - hysteresisPa, ...less, [delivery, 1], ...stiff(1)), pilots, -1)],
  });
  net.flowChannel(name, [inlet, 1], [exhaust, -1]);
  net.flowChannel(`${name}.exhaust`, [exhaust, 1]);
  net.channel(`opening.${name}`, "truth", "", { of: "opening", orifice: inlet.index });
  net.channel(`exhausting.${name}`, "truth", "", { of: "opening", orifice: exhaust.index });
  if (ports.exhaustLeak) {
    const leak = net.orifice(`${name}.exhaustLeak`, ports.supply, net.atmosphere, ports.exhaustLeak.size, {
      factors: [ports.exhaustLeak.fault],
    });
    net.flowChannel(`${name}.exhaustLeak`, [leak, 1]);
  }
}

function pilotPair(net: Network, ports: RelayValvePorts, gain: number): readonly [Mix, Mix] | undefined {
  const second = ports.secondControl;
  if (!second) return undefined;
  const air = net.atmosphere.pressure;
  if (gain !== 1) {
    return [
      mix(0, [ports.control.pressure, gain], [air, 1 - gain]),
      mix(0, [second.port.pressure, gain], [air, 1 - gain]),
    ];
  }
  return [mix(0, [ports.control.pressure, 1]), mix(0, [second.port.pressure, 1])];
}
