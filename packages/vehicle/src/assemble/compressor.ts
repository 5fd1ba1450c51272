import * as engine from "@brakeyard/engine";
import { exp, log } from "@brakeyard/units";
import { COMPRESSOR } from "../check/layout.ts";
import type { CompleteSupply, CompleteVehicle } from "../complete/complete.ts";
import type { Plant } from "./plant.ts";

/** Engine, key and compressor as signals. */
export interface Drive {
  readonly key: engine.Signal;
  readonly speed: engine.Signal | undefined;
}

/** Key and engine; an electric vehicle has only the key. */
export function addDrive(plant: Plant, vehicle: CompleteVehicle): Drive {
  const speeds = vehicle.engineSpeeds;
  if (!speeds) {
    const key = plant.net.control({ id: "key", kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0];
    return { key: key as engine.Signal, speed: undefined };
  }
  return engine.addEngineSpeed(plant.net, {
    idleRpm: speeds.idle.si,
    maximumRpm: Math.max(speeds.governed.si, speeds.maximumRecommended.si),
    crankRpm: speeds.crank.si,
    firesAtRpm: FIRES_AT * speeds.crank.si,
    timeConstantS: speeds.response.si,
  });
}

/** An engine that cranks catches a little below full cranking speed. */
const FIRES_AT = 0.85;

/** The compressor, by engine or motor, pumping while the governor has it loaded. */
export function addCompressor(
  plant: Plant,
  supply: CompleteSupply,
  drive: Drive,
  discharge: engine.Port,
  loaded: engine.Signal,
): void {
  const { compressor } = supply;
  const { displacement, clearance, intakeLoss, intakeWarming, condition } = compressor.values;
  const params = {
    displacementM3: displacement.si,
    clearanceRatio: clearance.si,
    intakeLossPa: intakeLoss.si,
    intakeTemperatureK: plant.surroundings.temperatureK + intakeWarming.si,
  };
  const health = [healthOf(plant, condition.si)];
  if (compressor.drive === "electric") {
    const limits = dutyLimits(compressor.values.longestRun.si, compressor.values.coolingTime.si);
    const motor = { ratedRpm: compressor.values.motorSpeed.si, runUpS: RUN_UP_S, ...limits };
    engine.addElectricCompressor(
      plant.net,
      COMPRESSOR,
      { discharge, wanted: loaded, key: drive.key, health },
      { ...params, ...motor },
    );
  } else {
    const speed = drive.speed as engine.Signal;
    engine.addCompressor(
      plant.net,
      COMPRESSOR,
      { discharge, speed, loaded, health },
      { ...params, speedRatio: compressor.values.speedRatio.si },
    );
  }
  drawCompressor(plant, supply);
}

/** Share of a new compressor's delivery that is left, less what a fault takes. */
function healthOf(plant: Plant, condition: number): engine.Signal {
  const weak = plant.faults.find("compressorWeak");
  const terms: { weight: number; factors: readonly engine.Signal[] }[] = [{ weight: condition, factors: [] }];
  if (weak) terms.push({ weight: -condition * weak.spec.lost, factors: [weak.signal] });
  return plant.net.product({ name: "compressor.health", minimum: 0, terms });
}

const RUN_UP_S = 1;

/** Warmth at which the motor stops itself; any share would do, since both times are given. */
const STOPS_AT = 0.8;

/** Warming and cooling with one time constant, so that it stops after the longest run and restarts after the rest. */
function dutyLimits(longestRunS: number, coolingS: number) {
  const warmingS = longestRunS / -log(1 - STOPS_AT);
  return { warmingS, stopsAtWarmth: STOPS_AT, restartsAtWarmth: STOPS_AT * exp(-coolingS / warmingS) };
}

function drawCompressor(plant: Plant, supply: CompleteSupply): void {
  const electric = supply.compressor.drive === "electric";
  const dried = supply.dryer.fitted.value === "yes";
  const outlet = dried ? "dryer.sump" : "discharge";
  plant.sheet.part({
    id: COMPRESSOR,
    kind: electric ? "electricCompressor" : "compressor",
    label: "Compressor",
    circuit: "supply",
    ports: { 0: undefined, 2: outlet },
    channels: {
      flow: "flow.compressor",
      speed: electric ? "compressor.speed" : "engine.speed",
      position: "mode.governor.loaded",
    },
    facts: { displacement: supply.compressor.values.displacement },
  });
}
