import { circuitOf, feedersOf, hasSprings, multiCircuitSupply, namedSupplies, usersOfAir } from "../check/layout.ts";
import { driveline, engineSpeeds, masses, ratings } from "../parts/chassis.ts";
import { fillPart } from "../parts/part.ts";
import type { VehicleFile } from "../schema/vehicle.ts";
import { jsonPath } from "../text/problem.ts";
import { resolveQuantity } from "../values/resolved.ts";
import type { Assumption, CompleteVehicle } from "./complete.ts";
import { completeAir } from "./completeAir.ts";
import { completeAxle } from "./completeAxle.ts";

/**
 * Every value of a vehicle in SI with its history: what the file says, and for the rest what is typical of the part.
 * @param file as accepted by loadVehicle
 */
export function completeVehicle(file: VehicleFile): CompleteVehicle {
  const hasEngine = file.propulsion !== "electric" && file.propulsion !== "none";
  const gears = file.driveline?.gears ?? [];
  return {
    file,
    id: file.id,
    title: file.title,
    kind: file.kind,
    ratings: fillPart(ratings, file.ratings),
    masses: fillPart(masses, file.masses),
    wheelbase: file.wheelbase && resolveQuantity("length", file.wheelbase),
    engineSpeeds: hasEngine ? fillPart(engineSpeeds, file.engineSpeeds) : null,
    driveline: {
      ...fillPart(driveline, file.driveline),
      gears: gears.map((gear) => ({ name: gear.name, ratio: resolveQuantity("ratio", gear.ratio) })),
    },
    axles: file.axles.map((axle) => completeAxle(file, axle)),
    air: file.air ? completeAir(file, file.air) : null,
    assumptions: [...supplyAssumptions(file), ...circuitAssumptions(file)],
  };
}

function supplyAssumptions(file: VehicleFile): Assumption[] {
  const air = file.air;
  if (!air) return [];
  const valve = multiCircuitSupply(file, air);
  const circuits = (air.multiCircuitValve?.circuits ?? []).map((one) => one.id);
  const users = usersOfAir(file, air).filter((entry) => entry.part !== "parking" || hasSprings(file));
  return [...namedSupplies(file, air), ...users, ...(valve ? [valve] : [])]
    .filter((entry) => !entry.said && !circuits.includes(entry.part))
    .map((entry) => ({
      path: jsonPath(entry.path),
      text: `${entry.part} is taken to be fed from ${entry.feeders.join(" and ")}`,
    }));
}

function circuitAssumptions(file: VehicleFile): Assumption[] {
  const air = file.air;
  if (!air || file.kind === "trailer") return [];
  return file.axles.flatMap((axle, i) => {
    if (!axle.brakes || axle.brakes.application?.circuit) return [];
    const circuit = circuitOf(file, axle);
    const tank = feedersOf(file, air, `footValve.${circuit}`).feeders.join(" and ");
    const path = jsonPath(["axles", i, "brakes", "application", "circuit"]);
    return [{ path, text: `axle ${axle.id} is taken to be on the ${circuit} circuit (tank ${tank})` }];
  });
}
