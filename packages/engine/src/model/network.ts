import {
  ATMOSPHERE,
  type ChamberSpec,
  type ChannelSource,
  type ChannelSpec,
  type CompressorSpec,
  type ControlSpec,
  type EngineModel,
  type Gate,
  type LagSpec,
  type Mix,
  type ModeSpec,
  type NodeSpec,
  type OrificeSpec,
  type ProductSpec,
  type Signal,
  type StrokeLaw,
  type WallHeat,
  type WatchSpec,
  type WaterSpec,
} from "./model.ts";

/** An air port: the node that a component and its neighbour share. */
export interface Port {
  readonly node: number;
  readonly pressure: Signal;
}

/** A handle to an orifice, for channels that show its flow or opening. */
export interface Orifice {
  readonly index: number;
}

/** Conductance of a flow path: sonic conductance m3/(s Pa) and critical ratio. */
export interface FlowSize {
  readonly conductance: number;
  readonly criticalRatio: number;
}

export interface Ambient {
  readonly pressurePa: number;
  readonly temperatureK: number;
}

export interface NetworkOptions {
  readonly ambient: Ambient;
  /** Holds all air at wall temperature, for cases that are derived so. */
  readonly isothermal?: boolean;
}

const IN_OPEN_AIR: Signal = { kind: "atmosphere", index: 0 };

/** Shorthand for a linear mix: pairs of signal and weight, then the offset. */
export function mix(offset: number, ...terms: readonly (readonly [Signal, number])[]): Mix {
  return { offset, terms: terms.map(([of, weight]) => ({ of, weight })) };
}

/** Seat that opens as the mix rises through zero and is fully open `width` later. */
export function seat(width: number, opening: Mix, greatest?: readonly [Mix, Mix], sign: 1 | -1 = 1): Gate {
  return greatest ? { mix: opening, width, greatest, sign } : { mix: opening, width };
}

function requirePositive(value: number, what: string): number {
  if (!(value > 0 && value < Infinity)) throw new RangeError(`${what} must be a positive number, got ${value}`);
  return value;
}

function requireFinite(value: number, what: string): number {
  if (!(value > -Infinity && value < Infinity)) throw new RangeError(`${what} must be a finite number, got ${value}`);
  return value;
}

/**
 * Builds an {@link EngineModel} part by part. Components call it; nothing else knows the order of nodes.
 * Throws RangeError for a value no part can have, and Error for a name used twice.
 */
export class Network {
  readonly atmosphere: Port = { node: ATMOSPHERE, pressure: IN_OPEN_AIR };
  readonly ambient: Ambient;
  readonly isothermal: boolean;
  private readonly names = new Set<string>();
  private readonly nodes: NodeSpec[] = [];
  private readonly chambers: ChamberSpec[] = [];
  private readonly orifices: OrificeSpec[] = [];
  private readonly compressors: CompressorSpec[] = [];
  private readonly controls: ControlSpec[] = [];
  private readonly modes: ModeSpec[] = [];
  private readonly products: ProductSpec[] = [];
  private readonly lags: LagSpec[] = [];
  private readonly waters: WaterSpec[] = [];
  private readonly watches: WatchSpec[] = [];
  private readonly channels: ChannelSpec[] = [];

  constructor(options: NetworkOptions) {
    requirePositive(options.ambient.pressurePa, "ambient pressure (Pa)");
    requirePositive(options.ambient.temperatureK, "ambient temperature (K)");
    this.ambient = options.ambient;
    this.isothermal = options.isothermal ?? false;
  }

  private claim(name: string): void {
    if (this.names.has(name)) throw new Error(`the name "${name}" is used twice in one vehicle`);
    this.names.add(name);
  }

  private addNode(node: NodeSpec): Port {
    this.claim(`node ${node.name}`);
    requirePositive(node.volumeM3, `volume of ${node.name} (m3)`);
    this.nodes.push(node);
    const index = this.nodes.length - 1;
    const port: Port = { node: index, pressure: { kind: "pressure", index } };
    this.channel(`pressure.${node.name}`, "truth", "Pa", { of: "gaugePressure", node: index });
    return port;
  }

  /** A rigid air volume that carries mass and temperature. */
  volume(
    name: string,
    spec: {
      volumeM3: number;
      heat: WallHeat;
      waterM3?: number;
      drain?: Signal;
      drainAreaM2?: number;
      wallTemperatureK?: number;
    },
  ): Port {
    const water = spec.drain ? this.waters.length : undefined;
    const port = this.addNode({
      name,
      volumeM3: spec.volumeM3,
      isothermal: this.isothermal,
      wallTemperatureK: spec.wallTemperatureK ?? this.ambient.temperatureK,
      heat: spec.heat,
      ...(water === undefined ? {} : { water }),
    });
    if (spec.drain) {
      const waterM3 = spec.waterM3 ?? 0;
      if (!(waterM3 >= 0 && waterM3 < spec.volumeM3))
        throw new RangeError(`water in ${name} must lie between 0 and its volume`);
      this.waters.push({ node: port.node, initialM3: waterM3, drain: spec.drain, drainAreaM2: spec.drainAreaM2 ?? 0 });
      this.channel(`water.${name}`, "truth", "m3", {
        of: "signal",
        signal: { kind: "water", index: this.waters.length - 1 },
        scale: 1,
        offset: 0,
      });
    }
    this.channel(`temperature.${name}`, "truth", "K", { of: "temperature", node: port.node });
    return port;
  }

  /** A short stretch of pipe: one pressure, its air at wall temperature. */
  line(name: string, spec: { volumeM3: number }): Port {
    return this.addNode({
      name,
      volumeM3: spec.volumeM3,
      isothermal: true,
      wallTemperatureK: this.ambient.temperatureK,
      heat: { kind: "constant", conductanceWPerK: 0 },
    });
  }

  /** A brake chamber: the air behind its diaphragm, and the rod that the air moves. */
  chamber(
    name: string,
    spec: Omit<ChamberSpec, "name" | "serviceNode" | "spring"> & {
      deadVolumeM3: number;
      heat: WallHeat;
      spring?: Omit<NonNullable<ChamberSpec["spring"]>, "node"> & { deadVolumeM3: number; heat: WallHeat };
    },
  ): { service: Port; spring: Port | undefined; index: number } {
    checkStrokeLaw(name, spec.law);
    const service = this.volume(`${name}.service`, { volumeM3: spec.deadVolumeM3, heat: spec.heat });
    const power = spec.spring;
    // The spring side is largest when the spring is held off; its volume shrinks as the spring comes out.
    const spring =
      power &&
      this.volume(`${name}.spring`, {
        volumeM3: power.deadVolumeM3 + power.areaM2 * power.maximumStrokeM,
        heat: power.heat,
      });
    const index = this.chambers.length;
    this.chambers.push({
      name,
      serviceNode: service.node,
      areaM2: requirePositive(spec.areaM2, `area of ${name}`),
      law: spec.law,
      returnSpring: spec.returnSpring,
      ...(power && spring
        ? {
            spring: {
              node: spring.node,
              areaM2: power.areaM2,
              forceN: power.forceN,
              rateNPerM: power.rateNPerM,
              maximumStrokeM: power.maximumStrokeM,
            },
          }
        : {}),
    });
    this.channel(`stroke.${name}`, "truth", "m", { of: "stroke", chamber: index });
    this.channel(`rodForce.${name}`, "truth", "N", { of: "rodForce", chamber: index });
    if (power) {
      this.channel(`springForce.${name}`, "truth", "N", { of: "springForce", chamber: index });
      this.channel(`springStroke.${name}`, "truth", "m", { of: "springStroke", chamber: index });
    }
    return { service, spring, index };
  }

  /** A flow path between two ports. `flowChannel` shows its flow as `flow.NAME`. */
  orifice(
    name: string,
    from: Port,
    to: Port,
    size: FlowSize,
    opening: { gates?: readonly Gate[]; factors?: readonly Signal[] } = {},
  ): Orifice {
    this.claim(`orifice ${name}`);
    if (!(size.conductance >= 0 && size.conductance < Infinity))
      throw new RangeError(`conductance of ${name} must be zero or more`);
    if (!(size.criticalRatio >= 0 && size.criticalRatio < 1))
      throw new RangeError(`critical ratio of ${name} must lie in 0..1`);
    if (from.node === to.node) throw new Error(`${name} joins a port to itself`);
    this.orifices.push({
      name,
      from: from.node,
      to: to.node,
      conductance: size.conductance,
      criticalRatio: size.criticalRatio,
      gates: opening.gates ?? [],
      factors: opening.factors ?? [],
    });
    return { index: this.orifices.length - 1 };
  }

  compressor(spec: CompressorSpec): void {
    this.claim(`compressor ${spec.name}`);
    this.compressors.push(spec);
    this.channel(`flow.${spec.name}`, "truth", "kg/s", { of: "compressorFlow", index: this.compressors.length - 1 });
  }

  /** Declares a control; returns one signal per curve, or the control itself when it has none. */
  control(spec: ControlSpec): readonly Signal[] {
    this.claim(`control ${spec.id}`);
    if (!(spec.minimum < spec.maximum && spec.initial >= spec.minimum && spec.initial <= spec.maximum)) {
      throw new RangeError(`range of control ${spec.id} is empty or does not hold its initial value`);
    }
    this.controls.push(spec);
    const index = this.controls.length - 1;
    return Array.from({ length: Math.max(1, spec.curves?.length ?? 0) }, (_, curve) => ({
      kind: "control" as const,
      index: index * CURVES_PER_CONTROL + curve,
    }));
  }

  /** Index that the next lag will have, for modes that listen to a lag which in turn follows them. */
  get nextLag(): number {
    return this.lags.length;
  }

  /** Index of the water in the volume added last. */
  get lastWater(): number {
    return this.waters.length - 1;
  }

  /** Number of a control declared before, for modes that it commands. */
  controlIndex(id: string): number {
    const index = this.controls.findIndex((c) => c.id === id);
    if (index < 0) throw new Error(`no control "${id}" has been declared`);
    return index;
  }

  mode(spec: ModeSpec): Signal {
    this.claim(`mode ${spec.id}`);
    this.modes.push(spec);
    const signal: Signal = { kind: "mode", index: this.modes.length - 1 };
    this.channel(`mode.${spec.id}`, "truth", "", { of: "signal", signal, scale: 1, offset: 0 });
    return signal;
  }

  product(spec: ProductSpec): Signal {
    this.products.push(spec);
    return { kind: "product", index: this.products.length - 1 };
  }

  lag(spec: LagSpec): Signal {
    this.claim(`lag ${spec.name}`);
    requirePositive(spec.timeConstantS, `time constant of ${spec.name} (s)`);
    this.lags.push(spec);
    return { kind: "lag", index: this.lags.length - 1 };
  }

  watch(spec: WatchSpec): void {
    this.watches.push(spec);
  }

  channel(id: string, kind: ChannelSpec["kind"], unit: string, source: ChannelSource): void {
    this.claim(`channel ${id}`);
    this.channels.push({ id, kind, unit, source });
  }

  /** Shows the flow through one path, or the sum through several, as `flow.NAME`. */
  flowChannel(name: string, ...paths: readonly (readonly [Orifice, number])[]): void {
    this.channel(`flow.${name}`, "truth", "kg/s", {
      of: "flow",
      orifices: paths.map(([o, sign]) => ({ index: o.index, sign })),
    });
  }

  compile(): EngineModel {
    this.channel("mass.total", "truth", "kg", { of: "totalMass" });
    return {
      atmosphere: { pressurePa: this.ambient.pressurePa, temperatureK: this.ambient.temperatureK },
      nodes: this.nodes,
      chambers: this.chambers,
      orifices: this.orifices,
      compressors: this.compressors,
      controls: this.controls,
      modes: this.modes,
      products: this.products,
      lags: this.lags,
      waters: this.waters,
      watches: this.watches,
      channels: this.channels,
    };
  }
}

/** A control has at most this many curves; its signals are numbered `index * CURVES_PER_CONTROL + curve`. */
export const CURVES_PER_CONTROL = 4;

function checkStrokeLaw(name: string, law: StrokeLaw): void {
  const { forceN, strokeM } = law;
  if (forceN.length < 2 || forceN.length !== strokeM.length)
    throw new RangeError(`stroke law of ${name} needs two or more points`);
  if (strokeM[0] !== 0) throw new RangeError(`stroke law of ${name} must start at stroke 0`);
  for (let i = 0; i < forceN.length; i++) {
    requireFinite(forceN[i], `stroke law of ${name}`);
    requireFinite(strokeM[i], `stroke law of ${name}`);
    if (i > 0 && !(forceN[i] > forceN[i - 1] && strokeM[i] >= strokeM[i - 1])) {
      throw new RangeError(`stroke law of ${name} must rise from point to point`);
    }
  }
}
