import { addBrakeChamber, endVolumeM3, type SpringChamberParams } from "@brakeyard/engine";
import type { CompleteVehicle, Wheel } from "../complete/complete.ts";
import { addLeaks } from "./leaks.ts";
import { AssemblyError } from "./options.ts";
import type { Plant } from "./plant.ts";
import { BODY_M3, chamberWalls, pipe } from "./sizes.ts";
import { EMPTY, type Rest } from "./start.ts";
import { type BrakedAxle, type Chamber, isBraked, SIDES, type Side } from "./unit.ts";

/** What stands in the chambers at the start, and which tanks they take from. */
export interface ChamberAir {
  readonly spring: Rest;
  readonly serviceDrains: (axle: BrakedAxle) => readonly string[];
  readonly springDrains: readonly string[];
  /** Volume of spring hoses, m3, that belongs to each spring chamber. */
  readonly springHoseM3: number;
}

/** All brake chambers of a vehicle, by name. */
export function addChambers(
  plant: Plant,
  vehicle: CompleteVehicle,
  prefix: string,
  air: ChamberAir,
): Map<string, Chamber> {
  const chambers = new Map<string, Chamber>();
  for (const axle of vehicle.axles.filter(isBraked)) {
    for (const side of SIDES) {
      const chamber = addChamber(plant, `${prefix}${axle.id}.${side}`, axle, side, air);
      chambers.set(chamber.name, chamber);
    }
  }
  return chambers;
}

function addChamber(plant: Plant, name: string, axle: BrakedAxle, side: Side, air: ChamberAir): Chamber {
  const wheel = axle.brakes[side];
  const path = axle.brakes.application.path;
  const hoseM3 = endVolumeM3(pipe(path.hoseLength, path.hoseBore)) / 2;
  const { service, spring } = addBrakeChamber(plant.net, name, {
    areaM2: wheel.area.si,
    deadVolumeM3: wheel.ratedVolume.si - wheel.area.si * wheel.fullStroke.si + hoseM3,
    fullStrokeM: wheel.fullStroke.si,
    thresholdPa: wheel.firstMotion.si,
    contactPa: wheel.contact.si,
    freeStrokeM: freeStrokeM(plant, name, wheel),
    stiffnessNPerM: wheel.stiffness.si,
    returnSpring: { preloadN: wheel.returnPreload.si, rateNPerM: wheel.returnRate.si },
    heat: chamberWalls(wheel.area.si),
    ...(hasSpring(wheel) && { spring: springParams(wheel, air.springHoseM3) }),
  });
  plant.chambers.push(name);
  plant.note(`${name}.service`, service, EMPTY, air.serviceDrains(axle));
  if (spring) plant.note(`${name}.spring`, spring, air.spring, air.springDrains);
  addLeaks(plant, "tornServiceDiaphragm", name, `${name}.service`);
  if (spring) addLeaks(plant, "springSideLeak", name, `${name}.spring`);
  draw(plant, name, axle, side, wheel);
  return { name, axle, brakes: axle.brakes, side, wheel, service, spring };
}

/** Whether a wheel end has a power spring. */
export function hasSpring(wheel: Wheel): boolean {
  return wheel.springType.value !== "none";
}

function freeStrokeM(plant: Plant, name: string, wheel: Wheel): number {
  const set = plant.freeStrokesM[name];
  if (set === undefined) return wheel.freeStroke.si;
  if (set >= 0 && set <= wheel.fullStroke.si) return set;
  const remedy = `write 0 to ${wheel.fullStroke.written} ${wheel.fullStroke.unit}`;
  throw new AssemblyError(name, `a free stroke of ${set * 1000} mm is not within the chamber's stroke`, remedy);
}

/**
 * The spring chamber is as large as the service chamber. The spring's own chamber has about the service side's area even where
 * its type number is smaller, which its force already says.
 */
function springParams(wheel: Wheel, hoseM3: number): SpringChamberParams {
  return {
    areaM2: wheel.area.si,
    deadVolumeM3: BODY_M3 * 4 + hoseM3,
    forceN: wheel.springForce.si,
    rateNPerM: wheel.springRate.si,
    heat: chamberWalls(wheel.area.si),
  };
}

function draw(plant: Plant, name: string, axle: BrakedAxle, side: Side, wheel: Wheel): void {
  const { circuit } = axle.brakes.application;
  const place = { axle: axle.id, side };
  plant.sheet.part({
    id: name,
    kind: "serviceChamber",
    label: `${axle.title} ${side}`,
    circuit: circuit === "service" ? "trailerService" : circuit,
    ...place,
    ports: { 1: `${name}.service` },
    channels: { stroke: `stroke.${name}`, rodForce: `rodForce.${name}` },
    facts: {
      type: wheel.chamberType,
      stroke: wheel.chamberStroke,
      fullStroke: wheel.fullStroke,
      arm: wheel.arm,
      adjuster: wheel.adjuster,
      brake: wheel.foundation,
    },
  });
  if (!hasSpring(wheel)) return;
  plant.sheet.part({
    id: `${name}.springBrake`,
    kind: "springChamber",
    label: `${axle.title} ${side} spring`,
    circuit: "parking",
    ...place,
    ports: { 1: `${name}.spring` },
    channels: { springForce: `springForce.${name}`, springStroke: `springStroke.${name}`, stroke: `stroke.${name}` },
    facts: { type: wheel.springType, force: wheel.springForce },
  });
}
