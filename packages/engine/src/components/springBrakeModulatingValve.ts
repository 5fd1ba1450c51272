import { mix, seat } from "../model/network.ts";
import { type FlowSize, gauge, type Network, type Port } from "./shared.ts";

/**
 * Spring brake modulating valve. It passes parking air to the spring brakes up to a limit. When the primary reservoir is lost
 * and the pedal goes down, the secondary delivery lets spring air out in proportion, so that the springs brake; on release it feeds it back.
 *
 *     primary >= changeover:  p = min(parking, limit)
 *     primary <  changeover:  p = min(parking, limit) - gain * secondary delivery
 *
 * @source [PhysicsAir] 3.7
 */
export interface ModulatingValveParams {
  readonly limitPa: number;
  readonly changeoverPa: number;
  /** Width of the changeover, Pa. */
  readonly changeoverWidthPa: number;
  readonly gain: number;
  readonly hysteresisPa: number;
  readonly seatPa: number;
  readonly supply: FlowSize;
  readonly exhaust: FlowSize;
}

export interface ModulatingValvePorts {
  readonly parking: Port;
  readonly delivery: Port;
  readonly primaryReservoir: Port;
  readonly secondaryDelivery: Port;
}

export function addSpringBrakeModulatingValve(
  net: Network,
  name: string,
  ports: ModulatingValvePorts,
  params: ModulatingValveParams,
): void {
  const { limitPa, gain, seatPa, changeoverPa, changeoverWidthPa: width } = params;
  const half = params.hysteresisPa / 2;
  const air = net.atmosphere.pressure;
  const [park, out, pedal] = [ports.parking.pressure, ports.delivery.pressure, ports.secondaryDelivery.pressure];
  const primaryLives = seat(width, gauge(net, ports.primaryReservoir, -changeoverPa));
  const primaryLost = seat(width, gauge(net, ports.primaryReservoir, changeoverPa, -1));
  const belowLimit = seat(seatPa, mix(limitPa, [air, 1], [out, -1]));
  const normal = net.orifice(`${name}.supply`, ports.parking, ports.delivery, params.supply, {
    gates: [belowLimit, primaryLives],
  });
  const graduated = net.orifice(`${name}.graduated`, ports.parking, ports.delivery, params.supply, {
    gates: [
      seat(seatPa, mix(-half, [park, 1], [pedal, -gain], [air, gain], [out, -1])),
      seat(seatPa, mix(limitPa - half, [air, 1 + gain], [pedal, -gain], [out, -1])),
      primaryLost,
    ],
  });
  // delivery + max(-parking, -limit) + gain * pedal: what stands above the target, which is the lesser of the two less the pedal's share.
  const least = [mix(0, [park, -1]), mix(-limitPa, [air, -1])] as const;
  const exhaust = net.orifice(`${name}.exhaust`, ports.delivery, net.atmosphere, params.exhaust, {
    gates: [seat(seatPa, mix(-half, [out, 1], [pedal, gain], [air, -gain]), least), primaryLost],
  });
  const back = net.orifice(`${name}.back`, ports.delivery, ports.parking, params.supply, {
    gates: [seat(seatPa, mix(0, [out, 1], [park, -1]))],
  });
  net.flowChannel(name, [normal, 1], [graduated, 1], [back, -1], [exhaust, -1]);
  net.flowChannel(`${name}.exhaust`, [exhaust, 1]);
}
