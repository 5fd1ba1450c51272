import {
  addBrakeChamber,
  addCheckValve,
  addCompressor,
  addGovernor,
  addLeak,
  addRelayValve,
  type EngineModel,
  mix,
  Network,
  type Port,
  type StartState,
} from "@brakeyard/engine";
import inputs from "./subsystems.json" with { type: "json" };

/** The five subsystems out of the product's own components, from the inputs that the Python scripts read too. */
export interface Subsystem {
  readonly name: string;
  readonly title: string;
  readonly model: EngineModel;
  readonly start: StartState;
  /** What a person does: at this time this control takes this value. */
  readonly controls: readonly { readonly timeS: number; readonly control: string; readonly value: number }[];
}

interface Vessel {
  readonly volumeM3: number;
  readonly wallM2: number;
  readonly lengthM: number;
  readonly gaugePa: number;
}

const network = (): Network =>
  new Network({ ambient: { pressurePa: inputs.atmospherePa, temperatureK: inputs.temperatureK } });
const wall = (of: { wallM2: number; lengthM: number }) =>
  ({ kind: "natural", areaM2: of.wallM2, lengthM: of.lengthM }) as const;
const tank = (net: Network, name: string, v: Vessel): Port => net.volume(name, { volumeM3: v.volumeM3, heat: wall(v) });
const held = (names: Readonly<Record<string, number>>): StartState => ({
  nodes: Object.fromEntries(Object.entries(names).map(([name, gaugePressurePa]) => [name, { gaugePressurePa }])),
});

function chamberParams(c: typeof inputs.springs.chamber) {
  return {
    areaM2: c.areaM2,
    deadVolumeM3: c.deadM3,
    fullStrokeM: c.fullStrokeM,
    thresholdPa: c.thresholdPa,
    contactPa: c.contactPa,
    freeStrokeM: c.freeStrokeM,
    stiffnessNPerM: c.stiffnessNPerM,
    returnSpring: { preloadN: 160, rateNPerM: 2000 },
    heat: wall(c),
  };
}

/** Notes when a pressure passes a level, without stopping the run. */
function watch(net: Network, id: string, port: Port, gaugePa: number): void {
  const above = mix(-gaugePa, [port.pressure, 1], [net.atmosphere.pressure, -1]);
  net.watch({ id, mix: above, risingText: "passes upwards", fallingText: "passes downwards" });
}

function relay(): Subsystem {
  const p = inputs.relay;
  const size = (c: number) => ({ conductance: c, criticalRatio: p.criticalRatio });
  const net = network();
  const step = (id: string) => net.control({ id, kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0]!;
  const store = tank(net, "tank", p.tank);
  const control = net.line("control", { volumeM3: p.controlLineM3 });
  const delivery = net.line("delivery", { volumeM3: p.deliveryLineM3 });
  net.orifice("fill", store, control, size(p.controlFill), { factors: [step("fill")] });
  net.orifice("vent", control, net.atmosphere, size(p.controlVent), { factors: [step("vent")] });
  const { crackPa, hysteresisPa, gain, seatPa, inlet, exhaust } = p.valve;
  const valve = { crackPa, hysteresisPa, gain, seatPa, inlet: size(inlet), exhaust: size(exhaust) };
  addRelayValve(net, "relay", { supply: store, control, delivery }, valve);
  const { service } = addBrakeChamber(net, "chamber", chamberParams(p.chamber));
  net.orifice("hose", delivery, service, size(p.hose));
  watch(net, "chamber60", service, 413_685);
  const controls = [
    { timeS: p.applyS, control: "fill", value: 1 },
    { timeS: p.releaseS, control: "fill", value: 0 },
    { timeS: p.releaseS, control: "vent", value: 1 },
  ];
  return { name: "relay", title: p.title, model: net.compile(), start: held({ tank: p.tank.gaugePa }), controls };
}

function equalise(): Subsystem {
  const p = inputs.equalise;
  const net = network();
  const first = tank(net, "first", p.first);
  const second = tank(net, "second", p.second);
  net.orifice("pipe", first, second, { conductance: p.conductance, criticalRatio: p.criticalRatio });
  const start = held({ first: p.first.gaugePa, second: p.second.gaugePa });
  return { name: "equalise", title: p.title, model: net.compile(), start, controls: [] };
}

function governor(): Subsystem {
  const p = inputs.governor;
  const net = network();
  const size = (c: number) => ({ conductance: c, criticalRatio: p.criticalRatio });
  const one = net.product({ name: "one", minimum: 0, terms: [{ weight: 1, factors: [] }] });
  const { rpm, displacementM3, clearanceRatio } = p.compressor;
  const speed = net.lag({
    name: "shaft",
    mix: mix(0, [one, rpm]),
    timeConstantS: 0.4,
    initial: rpm,
    feedsBack: true,
    scale: 100,
  });
  const discharge = net.volume("discharge", {
    volumeM3: p.discharge.volumeM3,
    heat: { kind: "constant", conductanceWPerK: p.discharge.conductanceWPerK },
  });
  const store = tank(net, "tank", p.tank);
  const loaded = addGovernor(net, "governor", { sensed: store }, { cutInPa: p.cutInPa, cutOutPa: p.cutOutPa });
  addCompressor(
    net,
    "compressor",
    { discharge, speed, loaded, health: [] },
    { displacementM3, clearanceRatio, intakeLossPa: 0, intakeTemperatureK: inputs.temperatureK, speedRatio: 1 },
  );
  const { conductance, crackPa, openingPa } = p.check;
  addCheckValve(net, "check", { from: discharge, to: store }, { size: size(conductance), crackPa, openingPa });
  addLeak(net, "tank", store, size(p.leak), []);
  const start = held({ discharge: p.tank.gaugePa, tank: p.tank.gaugePa });
  return { name: "governor", title: p.title, model: net.compile(), start, controls: [] };
}

function leakDown(): Subsystem {
  const p = inputs.leakDown;
  const net = network();
  const store = tank(net, "tank", p.tank);
  addLeak(net, "tank", store, { conductance: p.leak, criticalRatio: p.criticalRatio }, []);
  p.watchedGaugePa.forEach((level, i) => {
    watch(net, `tank${i}`, store, level);
  });
  return {
    name: "leakDown",
    title: p.title,
    model: net.compile(),
    start: held({ tank: p.tank.gaugePa }),
    controls: [],
  };
}

function springs(): Subsystem {
  const p = inputs.springs;
  const net = network();
  const size = (c: number) => ({ conductance: c, criticalRatio: p.criticalRatio });
  const store = tank(net, "tank", p.tank);
  const { areaM2, deadM3, forceN, rateNPerM } = p.spring;
  const chamber = addBrakeChamber(net, "rear", {
    ...chamberParams(p.chamber),
    spring: { areaM2, deadVolumeM3: deadM3, forceN, rateNPerM, heat: wall(p.spring) },
  });
  addLeak(net, "bleed", store, size(p.bleed), []);
  net.orifice("hose", store, chamber.spring!, size(p.hose));
  net.orifice("vent", chamber.service, net.atmosphere, size(p.serviceVent));
  p.watchedGaugePa.forEach((level, i) => {
    watch(net, `spring${i}`, chamber.spring!, level);
  });
  const start = held({ tank: p.tank.gaugePa, "rear.spring": p.tank.gaugePa });
  return { name: "springs", title: p.title, model: net.compile(), start, controls: [] };
}

export const SUBSYSTEMS = { relay, equalise, governor, leakDown, springs } as const;
export type SubsystemName = keyof typeof SUBSYSTEMS;
export const ATMOSPHERE_PA = inputs.atmospherePa;
