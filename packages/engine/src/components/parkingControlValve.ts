import { DECIDES, type FlowSize, gauge, type Network, not, type Port, type Signal } from "./shared.ts";

/**
 * Push-pull control in the cab. Pushed in it passes supply air to its delivery; pulled, or popped out by its spring when the air
 * that holds it falls, it exhausts the delivery. Below the hold-in pressure it does not stay in, unless a hand holds it.
 */
export interface PushPullParams {
  /** Pops out when the sensed gauge pressure falls to this, Pa. */
  readonly popsOutPa: number;
  /** Must be this much to stay in when pushed, Pa; at or above the pop-out pressure. */
  readonly holdsInPa: number;
  readonly supply: FlowSize;
  readonly exhaust: FlowSize;
}

export interface PushPullPorts {
  readonly supply: Port;
  readonly delivery: Port;
  /** Where its holding pressure comes from: the parking control feels its supply, a trailer supply control its delivery. */
  readonly sensed: Port;
  /** Controls that must be in for this one to stay in. */
  readonly needs: readonly Signal[];
  /** Fault: 1 and it does not pop by itself. */
  readonly sticks?: Signal;
}

/**
 * Declares the command `ID` (1 push in, 0 pull out) and `hold.ID` (1 while a hand holds it in), and the mode `control.ID`.
 * `title` is how events name it.
 */
export function addPushPullControl(
  net: Network,
  id: string,
  title: string,
  ports: PushPullPorts,
  params: PushPullParams,
): Signal {
  if (!(params.popsOutPa <= params.holdsInPa))
    throw new RangeError(`${id}: hold-in pressure must not lie below pop-out`);
  net.control({ id, kind: "command", minimum: 0, maximum: 1, initial: 0, unit: "" });
  const hand = net.control({ id: `hold.${id}`, kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0];
  const free = gauge(net, ports.sensed, params.popsOutPa, -1);
  const holding: { of: Signal; weight: number }[] = [{ of: hand, weight: -DECIDES }];
  if (ports.sticks) holding.push({ of: ports.sticks, weight: -DECIDES });
  const staying = gauge(net, ports.sensed, -params.holdsInPa);
  const inside = net.mode({
    id: `control.${id}`,
    initial: 0,
    turnsOff: { offset: free.offset, terms: [...free.terms, ...holding] },
    command: net.controlIndex(id),
    stays: { offset: staying.offset, terms: [...staying.terms, { of: hand, weight: DECIDES }] },
    needs: ports.needs.map((s) => s.index),
    onText: `${title} in`,
    offText: `${title} out`,
  });
  const feed = net.orifice(`${id}.supply`, ports.supply, ports.delivery, params.supply, { factors: [inside] });
  const vent = net.orifice(`${id}.exhaust`, ports.delivery, net.atmosphere, params.exhaust, {
    factors: [not(net, `${id}.out`, inside)],
  });
  net.flowChannel(id, [feed, 1], [vent, -1]);
  net.flowChannel(`${id}.exhaust`, [vent, 1]);
  net.channel(`control.${id}`, "reading", "", { of: "signal", signal: inside, scale: 1, offset: 0 });
  return inside;
}
