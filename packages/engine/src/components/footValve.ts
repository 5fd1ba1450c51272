import type { Mix, Signal } from "../model/model.ts";
import { mix, type Orifice, seat } from "../model/network.ts";
import type { FlowSize, Network, Port } from "./shared.ts";

/**
 * Dual-circuit foot valve. Pedal travel compresses a graduating spring; each section then holds its delivery at the pressure
 * that balances it: supply opens below, exhaust above, and between the two it laps. The secondary is moved by the primary's
 * delivery, or mechanically, further down, when there is none. Full travel holds both inlets open: delivery reaches the reservoir.
 */
export interface FootValveParams {
  /** Share of travel taken up before anything opens. */
  readonly freeTravel: number;
  /** First delivery as the pedal goes down, Pa gauge: the jump at the end of free travel. */
  readonly crackPa: number;
  /** Delivery at {@link graduatedTravel} as the pedal goes down, Pa gauge. */
  readonly graduatedPa: number;
  /** Share of travel at which graduation ends; beyond it the valve is forced fully open. */
  readonly graduatedTravel: number;
  /** How much more is delivered at the same travel as the pedal comes up, Pa: the lap between the two seats. */
  readonly hysteresisPa: number;
  /** How far the secondary stays below the primary as the pedal goes down, Pa; coming up, half of it. */
  readonly secondaryLagPa: number;
  /** Further share of travel before the secondary is pushed mechanically. */
  readonly mechanicalLag: number;
  /** Pressure over which a seat opens fully, Pa. */
  readonly seatPa: number;
  readonly supply: FlowSize;
  readonly exhaust: FlowSize;
}

/** With the pedal up the plunger leaves the exhaust wide open: as if this much below the open air were asked for, Pa. */
const RELEASED_PA = -3e4;
/** At full travel no reservoir pressure closes the inlet, Pa. */
const FORCED_PA = 2.5e6;
/** Lap of the secondary's relay piston, as a share of its lag: so it never stands above the primary. Our choice. */
const SECONDARY_LAP = 0.5;
/** Share of travel over which the first jump takes place. */
const JUMP_TRAVEL = 0.005;

function curve(params: FootValveParams, lag: number): { at: number[]; gives: number[] } {
  const { freeTravel, crackPa, graduatedPa, graduatedTravel } = params;
  const end = Math.min(graduatedTravel + lag, 0.985);
  return {
    at: [0, freeTravel + lag, freeTravel + lag + JUMP_TRAVEL, end, 1],
    gives: [RELEASED_PA - params.hysteresisPa, 0, crackPa, graduatedPa, FORCED_PA],
  };
}

export interface FootValvePorts {
  readonly primarySupply: Port;
  readonly primaryDelivery: Port;
  readonly secondarySupply: Port;
  readonly secondaryDelivery: Port;
  /** Multiplies both exhausts; 0 is an exhaust blocked. */
  readonly exhaustHealth?: Signal;
}

/** Declares the ramp control `pedal`, travel 0..1. Shows `flow.footValve.primary|secondary` (delivery, negative on exhaust). */
export function addFootValve(net: Network, ports: FootValvePorts, params: FootValveParams): void {
  const [primary, secondary] = net.control({
    id: "pedal",
    kind: "ramp",
    minimum: 0,
    maximum: 1,
    initial: 0,
    unit: "travel",
    curves: [curve(params, 0), curve(params, params.mechanicalLag)],
  }) as [Signal, Signal];
  const air = net.atmosphere.pressure;
  const health = ports.exhaustHealth ? [ports.exhaustHealth] : [];
  const section = (
    name: string,
    supply: Port,
    delivery: Port,
    own: Mix,
    lapPa: number,
    pair?: readonly [Mix, Mix],
    alsoOut: readonly Orifice[] = [],
  ): void => {
    const below = { offset: own.offset, terms: [...own.terms, { of: delivery.pressure, weight: -1 }] };
    const above = {
      offset: -own.offset - lapPa,
      terms: [...own.terms.map((t) => ({ of: t.of, weight: -t.weight })), { of: delivery.pressure, weight: 1 }],
    };
    const inlet: Orifice = net.orifice(`footValve.${name}.supply`, supply, delivery, params.supply, {
      gates: [seat(params.seatPa, below, pair, 1)],
    });
    const exhaust: Orifice = net.orifice(`footValve.${name}.exhaust`, delivery, net.atmosphere, params.exhaust, {
      gates: [seat(params.seatPa, above, pair, -1)],
      factors: health,
    });
    const out = [exhaust, ...alsoOut];
    net.flowChannel(`footValve.${name}`, [inlet, 1], ...out.map((path) => [path, -1] as const));
    net.flowChannel(`footValve.${name}.exhaust`, ...out.map((path) => [path, 1] as const));
  };
  section("primary", ports.primarySupply, ports.primaryDelivery, mix(0, [primary, 1], [air, 1]), params.hysteresisPa);
  const pushedByPrimary = mix(-params.secondaryLagPa, [ports.primaryDelivery.pressure, 1]);
  const pushedByPlunger = mix(-params.secondaryLagPa, [secondary, 1], [air, 1]);
  // With the pedal up only primary air holds the secondary's exhaust shut, however wide its lap is.
  const released = net.orifice(
    "footValve.secondary.released",
    ports.secondaryDelivery,
    net.atmosphere,
    params.exhaust,
    {
      gates: [
        seat(-RELEASED_PA, mix(0, [primary, -1])),
        seat(params.seatPa, mix(0, [ports.secondaryDelivery.pressure, 1], [ports.primaryDelivery.pressure, -1])),
      ],
      factors: health,
    },
  );
  const pushed = [pushedByPrimary, pushedByPlunger] as const;
  const lapPa = SECONDARY_LAP * params.secondaryLagPa;
  section("secondary", ports.secondarySupply, ports.secondaryDelivery, mix(0), lapPa, pushed, [released]);
}

/** Hand valve for the trailer brakes: one graduated section. Declares the ramp control `handValve`, 0..1. */
export function addHandValve(
  net: Network,
  ports: { supply: Port; delivery: Port },
  params: { maximumPa: number; hysteresisPa: number; seatPa: number; supply: FlowSize; exhaust: FlowSize },
): void {
  const hand = net.control({
    id: "handValve",
    kind: "ramp",
    minimum: 0,
    maximum: 1,
    initial: 0,
    unit: "travel",
    curves: [{ at: [0, 0.05, 1], gives: [RELEASED_PA, 0, params.maximumPa] }],
  })[0];
  const air = net.atmosphere.pressure;
  const half = params.hysteresisPa / 2;
  const inlet = net.orifice("handValve.supply", ports.supply, ports.delivery, params.supply, {
    gates: [seat(params.seatPa, mix(-half, [hand, 1], [air, 1], [ports.delivery.pressure, -1]))],
  });
  const exhaust = net.orifice("handValve.exhaust", ports.delivery, net.atmosphere, params.exhaust, {
    gates: [seat(params.seatPa, mix(-half, [hand, -1], [air, -1], [ports.delivery.pressure, 1]))],
  });
  net.flowChannel("handValve", [inlet, 1], [exhaust, -1]);
}
