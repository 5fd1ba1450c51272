import { CHAMBERS, strokeClasses } from "../parts/chambers.ts";
import type { AxleFile, BrakesFile, VehicleFile } from "../schema/vehicle.ts";
import { oneOf, type PathParts, type Problem, problem } from "../text/problem.ts";
import { circuitOf } from "./layout.ts";

/** Everything about axles that a schema cannot say. */
export function checkAxles(file: VehicleFile): Problem[] {
  return file.axles.flatMap((axle, i) => [
    ...checkBraked(axle, i),
    ...checkWheels(axle, i),
    ...checkShares(file, axle, i),
  ]);
}

function checkBraked(axle: AxleFile, index: number): Problem[] {
  const path = ["axles", index];
  if (axle.brakes && axle.unbraked) {
    return [problem([...path, "unbraked"], "the axle has brakes and says it has none", "remove one of the two")];
  }
  if (axle.brakes || axle.unbraked) return [];
  return [
    problem(path, `axle ${axle.id} is neither braked nor declared unbraked`, 'write its "brakes", or "unbraked": true'),
  ];
}

type Wheel = Pick<BrakesFile, "chamberType" | "chamberStroke" | "area" | "fullStroke" | "ratedVolume">;

function checkWheels(axle: AxleFile, index: number): Problem[] {
  const brakes = axle.brakes;
  if (!brakes) return [];
  const path = ["axles", index, "brakes"];
  const sides = (["left", "right"] as const).filter((side) => brakes[side] !== undefined);
  return [
    ...checkChamber(brakes, path),
    ...sides.flatMap((side) => checkChamber({ ...brakes, ...brakes[side] }, [...path, side])),
  ];
}

function checkChamber(wheel: Wheel, path: PathParts): Problem[] {
  const type = wheel.chamberType.value;
  if (type === "other") return checkOtherChamber(wheel, path);
  const stroke = wheel.chamberStroke?.value ?? "standard";
  if (strokeClasses(type).includes(stroke)) return [];
  const remedy = `write ${oneOf(strokeClasses(type))}, or chamber type "other" with area, fullStroke and ratedVolume`;
  return [problem([...path, "chamberStroke", "value"], `no ${stroke} stroke is made in type ${type}`, remedy)];
}

function checkOtherChamber(wheel: Wheel, path: PathParts): Problem[] {
  return (["area", "fullStroke", "ratedVolume"] as const)
    .filter((key) => wheel[key] === undefined)
    .map((key) =>
      problem(
        [...path, key],
        'missing: chamber type "other" has no table row',
        `write it, or a type: ${oneOf(Object.keys(CHAMBERS))}`,
      ),
    );
}

/** An axle may hang on the relay of another of the same circuit, as tandem axles do. */
function checkShares(file: VehicleFile, axle: AxleFile, index: number): Problem[] {
  const shares = axle.brakes?.application?.shares;
  if (shares === undefined) return [];
  const path = ["axles", index, "brakes", "application", "shares"];
  const other = file.axles.find((one) => one.id === shares);
  const braked = file.axles
    .filter((one) => one.brakes && one !== axle && !one.brakes.application?.shares)
    .map((one) => one.id);
  const remedy = `write the name of an axle with a valve of its own: ${oneOf(braked) || "there is none, so remove this"}`;
  if (!other || other === axle || !other.brakes)
    return [problem(path, `no other braked axle is called "${shares}"`, remedy)];
  if (other.brakes.application?.shares !== undefined)
    return [problem(path, `${shares} has no valve of its own`, remedy)];
  if (circuitOf(file, other) === circuitOf(file, axle)) return [];
  return [problem(path, `${shares} is on the other circuit`, "axles share a valve only within one circuit")];
}
