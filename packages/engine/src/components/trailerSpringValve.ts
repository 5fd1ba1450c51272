import { mix, seat } from "../model/network.ts";
import { addCheckValve, type CheckValveParams } from "./checkValve.ts";
import { type FlowSize, gauge, type Network, type Port, type Signal } from "./shared.ts";

/**
 * Trailer spring brake valve: the supply line holds the springs off and fills the trailer's reservoirs through a check valve once it stands above
 * the priority pressure. When the supply line falls the springs are let down at the valve.
 */
export interface TrailerSpringValveParams {
  readonly springs: FlowSize;
  readonly springExhaust: FlowSize;
  /** How far the springs stay below the line that fills them, Pa. Letting down needs none, or air would stay in them. */
  readonly crackPa: number;
  readonly seatPa: number;
  /** Reservoirs fill from this supply pressure on, Pa gauge; fully open `priorityWidthPa` later. */
  readonly priorityPa: number;
  readonly priorityWidthPa: number;
  readonly reservoirCheck: CheckValveParams;
}

/** Shows `flow.NAME.springs` and `flow.NAME.reservoir`. */
export function addTrailerSpringValve(
  net: Network,
  name: string,
  ports: { supply: Port; springs: Port; reservoir: Port; checkFailed?: Signal },
  params: TrailerSpringValveParams,
): void {
  const { supply, springs, reservoir } = ports;
  const feed = net.orifice(`${name}.springs`, supply, springs, params.springs, {
    gates: [seat(params.seatPa, mix(-params.crackPa, [supply.pressure, 1], [springs.pressure, -1]))],
  });
  const vent = net.orifice(`${name}.exhaust`, springs, net.atmosphere, params.springExhaust, {
    gates: [seat(params.seatPa, mix(0, [supply.pressure, -1], [springs.pressure, 1]))],
  });
  net.flowChannel(`${name}.springs`, [feed, 1], [vent, -1]);
  net.flowChannel(`${name}.exhaust`, [vent, 1]);
  const { size, crackPa, openingPa } = params.reservoirCheck;
  const fill = net.orifice(`${name}.reservoir`, supply, reservoir, size, {
    gates: [
      seat(params.priorityWidthPa, gauge(net, supply, -params.priorityPa)),
      seat(openingPa, mix(-crackPa, [supply.pressure, 1], [reservoir.pressure, -1])),
    ],
  });
  if (!ports.checkFailed) net.flowChannel(`${name}.reservoir`, [fill, 1]);
  else {
    const back = net.orifice(`${name}.reservoir.failed`, supply, reservoir, size, { factors: [ports.checkFailed] });
    net.flowChannel(`${name}.reservoir`, [fill, 1], [back, 1]);
  }
}

/** Trailer without spring brakes: when its supply line is lost, the reservoir is let into the chambers and held there. */
export interface EmergencyValveParams {
  /** Supply line gauge pressure at which it applies, Pa. */
  readonly appliesPa: number;
  readonly widthPa: number;
  readonly size: FlowSize;
  readonly check: CheckValveParams;
}

/**
 * Normally it joins the service line to the control of the trailer's relay. When the supply line falls it shuts that path and lets the
 * reservoir into the control instead; when supply is back the control empties into the service line.
 */
export function addEmergencyValve(
  net: Network,
  name: string,
  ports: { supply: Port; reservoir: Port; service: Port; control: Port },
  params: EmergencyValveParams,
): void {
  addCheckValve(net, `${name}.reservoir`, { from: ports.supply, to: ports.reservoir }, params.check);
  const normal = net.orifice(`${name}.service`, ports.service, ports.control, params.size, {
    gates: [seat(params.widthPa, gauge(net, ports.supply, -params.appliesPa))],
  });
  const apply = net.orifice(`${name}.apply`, ports.reservoir, ports.control, params.size, {
    gates: [seat(params.widthPa, gauge(net, ports.supply, params.appliesPa, -1))],
  });
  net.flowChannel(`${name}.service`, [normal, 1]);
  net.flowChannel(`${name}.apply`, [apply, 1]);
}
