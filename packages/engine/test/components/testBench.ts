import {
  type FlowSize,
  mix,
  Network,
  type Port,
  PSI,
  Simulation,
  type StartState,
  seat,
  TICK_S,
} from "../../src/index.ts";

/** What the component tests share: a bench with air at known pressures, and a run that keeps its books. */

export const AIR_PA = 101325;
export const WARM_K = 293.15;
/** Cubic inch and square inch, in SI. */
export const IN3 = 1.6387064e-5;
export const IN2 = 6.4516e-4;
export const INCH = 0.0254;
/** Pound-force, N. */
export const LBF = 4.4482216152605;

/** Air held at wall temperature unless `warm`: most valves are tested for pressures, which settle sooner so. */
export function bench(options: { warm?: boolean; pressurePa?: number } = {}): Network {
  return new Network({
    ambient: { pressurePa: options.pressurePa ?? AIR_PA, temperatureK: WARM_K },
    isothermal: !options.warm,
  });
}

/** Sonic conductance in dm3/(s bar), critical ratio 0.3: [ISO6358] as the published defaults have it. */
export function size(dm3PerSBar: number): FlowSize {
  return { conductance: dm3PerSBar * 1e-8, criticalRatio: 0.3 };
}

/** A rigid volume, litres. */
export function volume(net: Network, name: string, litres: number): Port {
  return net.volume(name, { volumeM3: litres * 1e-3, heat: { kind: "constant", conductanceWPerK: 0 } });
}

/** So large a volume that nothing on the bench moves its pressure. */
export function held(net: Network, name: string): Port {
  return volume(net, name, 1e7);
}

/** A control of 0..1 that jumps, for faults and the like. */
export function lever(net: Network, id: string, maximum = 1) {
  return net.control({ id, kind: "step", minimum: 0, maximum, initial: 0, unit: "" })[0]!;
}

/**
 * A litre whose gauge pressure is set by the ramp control `set.NAME` (psi): a bench regulator of 12 bar with no lap to speak of.
 */
export function regulated(net: Network, name: string, maximumPsi = 150): Port {
  const port = volume(net, name, 1);
  const source = held(net, `${name}.source`);
  const wanted = net.control({
    id: `set.${name}`,
    kind: "ramp",
    minimum: 0,
    maximum: maximumPsi,
    initial: 0,
    unit: "psi",
    curves: [{ at: [0, maximumPsi], gives: [0, maximumPsi * PSI] }],
  })[0]!;
  const air = net.atmosphere.pressure;
  net.orifice(`${name}.fill`, source, port, size(50), {
    gates: [seat(500, mix(0, [wanted, 1], [air, 1], [port.pressure, -1]))],
  });
  net.orifice(`${name}.vent`, port, net.atmosphere, size(50), {
    gates: [seat(500, mix(0, [wanted, -1], [air, -1], [port.pressure, 1]))],
  });
  return port;
}

/** Largest gap in the books of mass, as a share of what stood or moved: rounding, where mass is a state or volumes are rigid. */
const BOOKS = 1e-11;
/** Air held at wall temperature has no mass of its own; where its volume moves the books close to the accuracy of the steps. */
const ISOTHERMAL_BOOKS = 1e-4;

/** A run of what stands on the bench. Seconds, psi gauge; every advance must succeed and keep the books of mass. */
export class Bench {
  readonly run: Simulation;
  private readonly channels: ReadonlyMap<string, number>;
  private readonly books: number;

  /** `gaugePsi` names the volumes that start with air; the sources of {@link regulated} hold 174 psi unless named. */
  constructor(net: Network, gaugePsi: Readonly<Record<string, number>> = {}, start: Omit<StartState, "nodes"> = {}) {
    const model = net.compile();
    const sources = model.nodes
      .filter((node) => node.name.endsWith(".source"))
      .map((node) => [node.name, 174] as const);
    const all = { ...Object.fromEntries(sources), ...gaugePsi };
    const nodes = Object.fromEntries(Object.entries(all).map(([name, psi]) => [name, { gaugePressurePa: psi * PSI }]));
    this.run = new Simulation(model, { start: { ...start, nodes } });
    const moving = model.chambers.length + model.waters.length > 0;
    this.books = moving && net.isothermal ? ISOTHERMAL_BOOKS : BOOKS;
    this.channels = new Map(model.channels.map((channel, i) => [channel.id, i]));
  }

  get nowS(): number {
    return this.run.tick * TICK_S;
  }

  /** Moves a control now. */
  set(control: string, value: number): this {
    this.run.setControl({ tick: this.run.tick, control, value });
    return this;
  }

  /** Runs on for a time. */
  wait(seconds: number): this {
    const tick = this.run.tick + Math.max(1, Math.floor(seconds / TICK_S + 0.5));
    const status = this.run.advanceTo(tick);
    if (!status.ok) throw new Error(status.message);
    const { mass } = this.run.balance();
    const moved = mass.start + mass.in + Math.abs(mass.out);
    if (!(Math.abs(mass.error) <= this.books * moved)) throw new Error(`mass is off by ${mass.error} kg of ${moved}`);
    return this;
  }

  /** Moves a ramp control evenly from one value to another over a time. */
  sweep(control: string, from: number, to: number, seconds: number): this {
    const start = this.run.tick;
    const ticks = Math.floor(seconds / TICK_S + 0.5);
    for (let k = 1; k <= ticks; k++) {
      this.run.setControl({ tick: start + k - 1, control, value: from + ((to - from) * k) / ticks });
    }
    return this.wait(seconds);
  }

  /** A channel as it stands now. */
  read(channel: string): number {
    const at = this.channels.get(channel);
    if (at === undefined) throw new Error(`no channel "${channel}"`);
    return this.run.sample()[at]!;
  }

  psi(node: string): number {
    return this.read(`pressure.${node}`) / PSI;
  }

  flow(name: string): number {
    return this.read(`flow.${name}`);
  }

  /** Seconds from now until a condition holds, looked at every tick. NaN when it does not within `limitS`. */
  until(condition: () => boolean, limitS: number): number {
    const start = this.nowS;
    while (this.nowS - start < limitS) {
      this.wait(TICK_S);
      if (condition()) return this.nowS - start;
    }
    return Number.NaN;
  }

  /** Events since last asked. */
  events(): readonly { readonly timeS: number; readonly id: string; readonly on: boolean; readonly text: string }[] {
    return this.run.takeEvents();
  }
}
