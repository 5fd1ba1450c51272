import {
  addBrakeChamber,
  addCheckValve,
  addCompressor,
  addDoubleCheckValve,
  addDryer,
  addEngineSpeed,
  addFootValve,
  addGauge,
  addGovernor,
  addLowAirSwitch,
  addPushPullControl,
  addQuickReleaseValve,
  addRelayValve,
  addReservoir,
  addSafetyValve,
  addStopLamp,
  addWarning,
  Network,
  PSI,
} from "../src/index.ts";

const size = (dm3PerSBar: number) => ({ conductance: dm3PerSBar * 1e-8, criticalRatio: 0.3 });
const wall = (areaM2: number, lengthM: number) => ({ kind: "natural" as const, areaM2, lengthM });
const IN2 = 6.4516e-4;
const IN3 = 1.6387064e-5;

function chamber(type: 24 | 30) {
  const areaM2 = type * IN2;
  return {
    areaM2,
    deadVolumeM3: (type === 24 ? 11 : 14) * IN3,
    fullStrokeM: 0.0635,
    thresholdPa: 4 * PSI,
    contactPa: 9 * PSI,
    freeStrokeM: (type === 24 ? 0.5 : 0.55) * 0.0254,
    stiffnessNPerM: 457e3,
    returnSpring: { preloadN: 160, rateNPerM: 2000 },
    heat: wall(0.06, 0.1),
  };
}

/** A two-axle bus put together by hand from the engine's components: 20, 25 and 20 L, types 24 and 30/30, anti-compounding. */
export function trialBus(options: { isothermal?: boolean } = {}) {
  const net = new Network({
    ambient: { pressurePa: 101325, temperatureK: 293.15 },
    isothermal: options.isothermal ?? false,
  });
  const { key, speed } = addEngineSpeed(net, {
    idleRpm: 700,
    maximumRpm: 2400,
    crankRpm: 200,
    firesAtRpm: 150,
    timeConstantS: 0.4,
  });
  const tank = (name: string, volumeM3: number) =>
    addReservoir(net, name, { volumeM3, heat: wall(0.45, 0.24), waterM3: 0, drain: size(1.5) });
  const supply = tank("supply", 0.02);
  const primary = tank("primary", 0.025);
  const secondary = tank("secondary", 0.02);
  const loaded = addGovernor(net, "governor", { sensed: supply }, { cutInPa: 105 * PSI, cutOutPa: 125 * PSI });
  const check = { size: size(6), crackPa: 0.7 * PSI, openingPa: 2 * PSI };
  const { discharge } = addDryer(
    net,
    "dryer",
    { outlet: supply, loaded },
    {
      sumpVolumeM3: 0.0012,
      dischargeHeat: { kind: "constant", conductanceWPerK: 12 },
      purgeVolumeM3: 0.0025,
      purgeHeat: wall(0.1, 0.1),
      through: size(12),
      purgeValve: size(15),
      purgeReturn: size(0.12),
      outletCheck: { ...check, size: size(8) },
    },
  );
  addCompressor(
    net,
    "compressor",
    { discharge, speed, loaded, health: [] },
    { displacementM3: 5e-4, clearanceRatio: 0.05, intakeLossPa: 0, intakeTemperatureK: 293.15, speedRatio: 1 },
  );
  addSafetyValve(net, "safetyValve", { from: supply }, { opensPa: 150 * PSI, reseatsPa: 135 * PSI, size: size(20) });
  addCheckValve(net, "check.primary", { from: supply, to: primary }, check);
  addCheckValve(net, "check.secondary", { from: supply, to: secondary }, check);
  const relayControl = net.line("relayControl", { volumeM3: 0.00025 });
  const frontLine = net.line("frontLine", { volumeM3: 0.00012 });
  addFootValve(
    net,
    { primarySupply: primary, primaryDelivery: relayControl, secondarySupply: secondary, secondaryDelivery: frontLine },
    {
      freeTravel: 0.08,
      crackPa: 4 * PSI,
      graduatedPa: 110 * PSI,
      graduatedTravel: 0.85,
      hysteresisPa: 3 * PSI,
      secondaryLagPa: 1.5 * PSI,
      mechanicalLag: 0.06,
      seatPa: 2 * PSI,
      supply: size(6),
      exhaust: size(6),
    },
  );
  const rear = ["left", "right"].map((side) =>
    addBrakeChamber(net, `rear.${side}`, {
      ...chamber(30),
      spring: { areaM2: 30 * IN2, deadVolumeM3: 18 * IN3, forceN: 8896, rateNPerM: 43800, heat: wall(0.06, 0.1) },
    }),
  );
  const front = ["left", "right"].map((side) => addBrakeChamber(net, `front.${side}`, chamber(24)));
  const relayDelivery = net.line("relayDelivery", { volumeM3: 0.00015 });
  addRelayValve(
    net,
    "relay",
    { supply: primary, control: relayControl, delivery: relayDelivery },
    { crackPa: 3.2 * PSI, hysteresisPa: 2.4 * PSI, gain: 1.03, seatPa: PSI, inlet: size(4.2), exhaust: size(14) },
  );
  rear.forEach((c, i) => {
    net.orifice(`hose.rear.${i}`, relayDelivery, c.service, size(5));
  });
  addQuickReleaseValve(
    net,
    "quickRelease",
    { line: frontLine, outlets: { left: front[0]!.service, right: front[1]!.service } },
    { crackPa: 0.2 * PSI, seatPa: PSI, inlet: size(1.8), exhaust: size(3) },
  );
  const parkSupply = net.line("parkSupply", { volumeM3: 0.00008 });
  addDoubleCheckValve(
    net,
    "doubleCheck",
    { first: primary, second: secondary, outlet: parkSupply },
    { size: size(6), travelPa: 0.4 * PSI },
  );
  const parkLine = net.line("parkLine", { volumeM3: 0.00015 });
  addPushPullControl(
    net,
    "parking",
    "parking control",
    { supply: parkSupply, delivery: parkLine, sensed: parkSupply, needs: [] },
    { popsOutPa: 30 * PSI, holdsInPa: 32 * PSI, supply: size(3), exhaust: size(3) },
  );
  const springLine = net.line("springLine", { volumeM3: 0.00012 });
  addRelayValve(
    net,
    "springRelay",
    { supply: parkSupply, control: parkLine, secondControl: { port: relayDelivery }, delivery: springLine },
    { crackPa: 3.2 * PSI, hysteresisPa: 2.4 * PSI, gain: 1.03, seatPa: PSI, inlet: size(8), exhaust: size(8) },
  );
  rear.forEach((c, i) => {
    net.orifice(`hose.spring.${i}`, springLine, c.spring!, size(4));
  });
  const gauge = { lagS: 0.3, offsetPa: 0, gain: 1, resolutionPa: 0 };
  addGauge(net, "primary", primary, gauge);
  addGauge(net, "secondary", secondary, gauge);
  addGauge(net, "application", relayControl, gauge);
  const switches = [
    addLowAirSwitch(net, "primary", primary, { closesPa: 65 * PSI, opensPa: 70 * PSI }),
    addLowAirSwitch(net, "secondary", secondary, { closesPa: 65 * PSI, opensPa: 70 * PSI }),
  ];
  addWarning(net, "lowAir", switches, key, true);
  addStopLamp(net, { primary: relayControl, secondary: frontLine }, 4 * PSI, key);
  return net.compile();
}

/** All tanks and the purge volume at a gauge pressure (psi), parked. */
export function charged(psi: number) {
  const at = { gaugePressurePa: psi * PSI };
  return { nodes: { supply: at, primary: at, secondary: at, "dryer.purgeVolume": at, parkSupply: at } };
}
