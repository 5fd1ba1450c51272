import type {
  CompleteAir,
  CompleteAxle,
  CompletePower,
  CompleteReservoir,
  CompleteVehicle,
  Wheel,
} from "../complete/complete.ts";
import type { AxleFile } from "../schema/vehicle.ts";
import { type PathParts, type Problem, problem } from "../text/problem.ts";
import type { Quantity } from "../values/resolved.ts";

/**
 * Values that are each possible but not together. Looked at with everything filled in, since a given value may clash with a
 * typical one.
 */
export function checkValues(vehicle: CompleteVehicle): Problem[] {
  const air = vehicle.air;
  return [
    ...vehicle.axles.flatMap((axle, i) => axleValues(axle, vehicle.file.axles[i], i)),
    ...speeds(vehicle),
    ...(air ? airValues(air) : []),
  ];
}

/** Name and value of one side of a comparison. */
type Side = readonly [key: string, quantity: Quantity];

function less([lowKey, low]: Side, [highKey, high]: Side, path: PathParts): Problem[] {
  if (low.si < high.si) return [];
  const message = `${highKey} (${said(high)}) is not above ${lowKey} (${said(low)})`;
  return [
    problem([...path, high.generic && !low.generic ? lowKey : highKey], message, `write ${highKey} above ${lowKey}`),
  ];
}

function said(quantity: Quantity): string {
  const unit = quantity.unit === "1" ? "" : ` ${quantity.unit}`;
  return `${quantity.written}${unit}${quantity.generic ? ", typical" : ""}`;
}

function axleValues(axle: CompleteAxle, given: AxleFile | undefined, index: number): Problem[] {
  if (!axle.brakes) return [];
  const path = ["axles", index, "brakes"];
  const { left, right, application } = axle.brakes;
  const sides = given?.brakes;
  const problems = wheelValues(left, sides?.left ? [...path, "left"] : path);
  if (sides?.left || sides?.right) problems.push(...wheelValues(right, sides.right ? [...path, "right"] : path));
  problems.push(...lap(application.relay, [...path, "application", "relay"]));
  if (application.path.antilock.value !== "none" && application.shares !== null) problems.push(sharedModulators(path));
  return problems;
}

/** A relay whose lap is wider than its crack pressure never lets the last air out. */
function lap(valve: { hysteresis: Quantity; crack: Quantity }, path: PathParts): Problem[] {
  return less(["hysteresis", valve.hysteresis], ["crack", valve.crack], path);
}

function sharedModulators(path: PathParts): Problem {
  const message = "an axle on another axle's valve has that axle's modulators";
  return problem([...path, "application", "antilock"], message, "write the modulators at the axle with the valve");
}

function wheelValues(wheel: Wheel, path: PathParts): Problem[] {
  return [
    ...less(["firstMotion", wheel.firstMotion], ["contact", wheel.contact], path),
    ...less(["freeStroke", wheel.freeStroke], ["fullStroke", wheel.fullStroke], path),
    ...deadVolume(wheel, path),
    ...springLength(wheel, path),
  ];
}

function deadVolume(wheel: Wheel, path: PathParts): Problem[] {
  const swept = wheel.area.si * wheel.fullStroke.si;
  if (wheel.ratedVolume.si > swept * 1.005) return [];
  const litres = Math.floor(swept * 1e5) / 100;
  const message = `ratedVolume (${said(wheel.ratedVolume)}) is not above area x fullStroke, ${litres} L`;
  return [
    problem(
      [...path, "ratedVolume"],
      message,
      "rated volume = area x full stroke + the dead volume before the diaphragm",
    ),
  ];
}

function springLength(wheel: Wheel, path: PathParts): Problem[] {
  if (wheel.springType.value === "none") return [];
  const atEnd = wheel.springForce.si - wheel.springRate.si * wheel.fullStroke.si;
  if (atEnd > 0) return [];
  return [
    problem(
      [...path, "springRate"],
      "the spring has no force left at full stroke",
      "write a smaller rate or a larger springForce",
    ),
  ];
}

function speeds(vehicle: CompleteVehicle): Problem[] {
  const engine = vehicle.engineSpeeds;
  if (!engine) return [];
  const path = ["engineSpeeds"];
  return [
    ...less(["crank", engine.crank], ["idle", engine.idle], path),
    ...less(["idle", engine.idle], ["fastIdle", engine.fastIdle], path),
    ...less(["fastIdle", engine.fastIdle], ["governed", engine.governed], path),
  ];
}

function airValues(air: CompleteAir): Problem[] {
  return [
    ...air.reservoirs.flatMap((one, i) => tankValues(one, i)),
    ...air.auxiliaries.flatMap(({ protection }, i) =>
      protection ? opensAbove(protection, ["air", "auxiliaries", i, "protection"]) : [],
    ),
    ...(air.power ? powerValues(air.power) : []),
  ];
}

function tankValues(one: CompleteReservoir, index: number): Problem[] {
  return less(["water", one.values.water], ["volume", one.values.volume], ["air", "reservoirs", index]);
}

type Foot = CompletePower["foot"]["values"];

/** Both sections must have travel left to graduate over. */
function pedalTravel(foot: Foot): Problem[] {
  const starts = foot.freeTravel.si + foot.mechanicalLag.si;
  if (starts + 0.05 <= foot.fullTravel.si) return [];
  const message = `freeTravel + mechanicalLag (${starts}) leave less than 0.05 of travel up to fullTravel (${foot.fullTravel.si})`;
  return [
    problem(["air", "footValve", "freeTravel"], message, "write less freeTravel or mechanicalLag, or more fullTravel"),
  ];
}

function opensAbove(valve: { closes: Quantity; opens: Quantity }, path: PathParts): Problem[] {
  return less(["closes", valve.closes], ["opens", valve.opens], path);
}

function powerValues(power: CompletePower): Problem[] {
  const { governor } = power.supply;
  const foot = power.foot.values;
  const control = power.parking?.control;
  const connection = power.connection;
  const towing = connection?.supplyControl;
  const circuits = power.multiCircuit?.circuits ?? [];
  return [
    ...less(["cutIn", governor.cutIn], ["cutOut", governor.cutOut], ["air", "governor"]),
    ...pedalTravel(foot),
    ...less(["crack", foot.crack], ["graduatedTo", foot.graduatedTo], ["air", "footValve"]),
    ...(power.parking ? lap(power.parking.springs, ["air", "parking", "springs"]) : []),
    ...(connection ? opensAbove(connection.protection, ["air", "trailerConnection", "protection"]) : []),
    ...circuits.flatMap((one, i) => opensAbove(one.values, ["air", "multiCircuitValve", "circuits", i])),
    ...circuits.flatMap((one, i) => {
      const path = ["air", "multiCircuitValve", "circuits", i];
      return one.values.opens.si < governor.cutOut.si
        ? []
        : less(["opens", one.values.opens], ["cutOut", governor.cutOut], path);
    }),
    ...(control ? less(["popsOut", control.popsOut], ["holdsIn", control.holdsIn], ["air", "parking", "control"]) : []),
    ...(towing
      ? less(["popsOut", towing.popsOut], ["holdsIn", towing.holdsIn], ["air", "trailerConnection", "supplyControl"])
      : []),
  ];
}

/** Odd but possible: said to the reader, not refused. */
export function notesOn(vehicle: CompleteVehicle): string[] {
  const notes = vehicle.assumptions.map((one) => `${one.path}: ${one.text}`);
  const { laden } = vehicle.masses;
  if (laden && laden.si > vehicle.ratings.gross.si) notes.push("$.masses.laden: above the gross vehicle rating");
  const power = vehicle.air?.power;
  for (const one of vehicle.air?.reservoirs ?? []) {
    if (power && one.safetyValve && one.safetyValve.opens.si <= power.supply.governor.cutOut.si) {
      notes.push(`$.air.reservoirs: the safety valve of ${one.id} opens below the governor's cut-out`);
    }
  }
  return notes;
}
