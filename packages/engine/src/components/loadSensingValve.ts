import { mix, seat } from "../model/network.ts";
import type { FlowSize, Network, Port } from "./shared.ts";

/** Load-sensing valve: above its knee the delivery rises by `ratio` of the inlet. Unladen the ratio is low, fully laden 1. */
export interface LoadSensingParams {
  readonly ratio: number;
  /** Gauge pressure below which delivery equals inlet, Pa. */
  readonly kneePa: number;
  readonly hysteresisPa: number;
  readonly seatPa: number;
  readonly inlet: FlowSize;
  readonly exhaust: FlowSize;
}

export function addLoadSensingValve(
  net: Network,
  name: string,
  ports: { inlet: Port; outlet: Port },
  params: LoadSensingParams,
): void {
  const { ratio, kneePa } = params;
  if (!(ratio > 0 && ratio <= 1)) throw new RangeError(`${name}: ratio must lie in 0..1`);
  const half = params.hysteresisPa / 2;
  const air = net.atmosphere.pressure;
  const [p, q] = [ports.inlet.pressure, ports.outlet.pressure];
  const knee = kneePa * (1 - ratio);
  const inlet = net.orifice(`${name}.inlet`, ports.inlet, ports.outlet, params.inlet, {
    gates: [seat(params.seatPa, mix(knee - half + params.seatPa, [p, ratio], [air, 1 - ratio], [q, -1]))],
  });
  // Below the inlet the outlet empties back through the valve; above its share it exhausts.
  const back = net.orifice(`${name}.back`, ports.outlet, ports.inlet, params.inlet, {
    gates: [seat(params.seatPa, mix(0, [q, 1], [p, -1]))],
  });
  const exhaust = net.orifice(`${name}.exhaust`, ports.outlet, net.atmosphere, params.exhaust, {
    gates: [seat(params.seatPa, mix(-knee - half - params.seatPa, [p, -ratio], [air, ratio - 1], [q, 1]))],
  });
  net.flowChannel(name, [inlet, 1], [back, -1], [exhaust, -1]);
}
