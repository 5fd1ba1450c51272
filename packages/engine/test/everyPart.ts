import { mix, Network, seat } from "../src/index.ts";

/** A small made-up circuit that exercises every kind of equation once, at pressures where the smoothings are live. */
export function everyPart(isothermal = false) {
  const net = new Network({ ambient: { pressurePa: 101325, temperatureK: 293.15 }, isothermal });
  const wall = { kind: "natural" as const, areaM2: 0.4, lengthM: 0.25 };
  const [drain] = net.control({ id: "drain", kind: "step", minimum: 0, maximum: 1, initial: 1, unit: "" });
  const [target] = net.control({
    id: "pedal",
    kind: "ramp",
    minimum: 0,
    maximum: 1,
    initial: 0.5,
    unit: "",
    curves: [{ at: [0, 1], gives: [0, 8e5] }],
  });
  const [rpm] = net.control({ id: "throttle", kind: "step", minimum: 0, maximum: 3000, initial: 1500, unit: "rpm" });
  const size = { conductance: 3e-8, criticalRatio: 0.3 };
  const tank = net.volume("tank", { volumeM3: 0.02, heat: wall, waterM3: 0.001, drain: drain!, drainAreaM2: 1e-6 });
  const second = net.volume("second", { volumeM3: 0.015, heat: { kind: "constant", conductanceWPerK: 5 } });
  const pipe = net.line("pipe", { volumeM3: 0.0002 });
  const law = { forceN: [530, 1200, 13000], strokeM: [0, 0.014, 0.04] };
  const chamber = net.chamber("rear", {
    areaM2: 0.01935,
    law,
    deadVolumeM3: 0.00025,
    heat: { kind: "natural", areaM2: 0.06, lengthM: 0.1 },
    returnSpring: { preloadN: 160, rateNPerM: 2000 },
    spring: {
      areaM2: 0.01935,
      forceN: 8900,
      rateNPerM: 44000,
      maximumStrokeM: 0.0635,
      deadVolumeM3: 0.0003,
      heat: { kind: "natural", areaM2: 0.06, lengthM: 0.1 },
    },
  });
  const front = net.chamber("front", {
    areaM2: 0.0129,
    law,
    deadVolumeM3: 0.0002,
    heat: wall,
    returnSpring: { preloadN: 160, rateNPerM: 2000 },
  });
  const speed = net.lag({
    name: "rpm",
    mix: mix(0, [rpm!, 1]),
    timeConstantS: 0.4,
    initial: 1000,
    feedsBack: true,
    scale: 100,
  });
  net.compressor({
    name: "pump",
    to: second.node,
    displacementM3: 5e-4,
    clearanceRatio: 0.05,
    intakePressurePa: 101325,
    intakeTemperatureK: 300,
    speed,
    speedRatio: 1,
    factors: [],
  });
  net.orifice("check", second, tank, size, {
    gates: [seat(7000, mix(-1000, [second.pressure, 1], [tank.pressure, -1]))],
  });
  net.orifice("inlet", tank, pipe, size, {
    gates: [seat(14000, mix(-3000, [pipe.pressure, -1]), [mix(0, [target!, 1]), mix(-20000, [second.pressure, 1])])],
  });
  net.orifice("hose", pipe, chamber.service, size);
  net.orifice("hose2", pipe, front.service, size);
  net.orifice("springHose", tank, chamber.spring!, size, {
    gates: [
      seat(50000, mix(20000, [tank.pressure, 1], [chamber.spring!.pressure, -1])),
      seat(3e5, mix(0, [pipe.pressure, 1])),
    ],
  });
  net.orifice("exhaust", chamber.service, net.atmosphere, { conductance: 1e-9, criticalRatio: 0.4 });
  net.orifice("leak", second, net.atmosphere, { conductance: 1e-10, criticalRatio: 0.4 });
  net.lag({
    name: "gauge",
    mix: mix(0, [tank.pressure, 1]),
    timeConstantS: 0.3,
    initial: "mix",
    feedsBack: false,
    scale: 1,
  });
  return net.compile();
}

/** Pressures at which springs, corners and partly open seats are all in play. */
export const LIVELY_START = {
  nodes: {
    tank: { gaugePressurePa: 7.0e5, temperatureK: 310 },
    second: { gaugePressurePa: 7.04e5, temperatureK: 330 },
    pipe: { gaugePressurePa: 6.83e5 },
    "rear.service": { gaugePressurePa: 0.45e5, temperatureK: 280 },
    "rear.spring": { gaugePressurePa: 3.6e5, temperatureK: 300 },
    "front.service": { gaugePressurePa: 0.6e5, temperatureK: 300 },
  },
};
