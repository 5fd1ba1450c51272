import type { AirFile, VehicleFile } from "../schema/vehicle.ts";
import { oneOf, type PathParts, type Problem, problem } from "../text/problem.ts";
import { namedSupplies } from "./layout.ts";

/** Names by which parts refer to tanks must be names of tanks. */
export function checkReferences(file: VehicleFile, air: AirFile): Problem[] {
  const tanks = air.reservoirs.map((one) => one.id);
  const fed = namedSupplies(file, air).map((entry) => entry.part);
  return [
    ...air.reservoirs.flatMap((one, i) => shell(one, tanks, ["air", "reservoirs", i, "sharesShellWith"])),
    ...(air.warning?.watches ?? []).flatMap((name, i) => known(name, tanks, ["air", "warning", "watches", i])),
    ...(air.gauges ?? []).flatMap((one, i) =>
      known(one.shows, [...tanks, "application"], ["air", "gauges", i, "shows"]),
    ),
    ...file.axles.flatMap((axle, i) => {
      const name = axle.brakes?.application?.fedFrom;
      return name === undefined ? [] : known(name, fed, ["axles", i, "brakes", "application", "fedFrom"]);
    }),
  ];
}

function known(name: string, names: readonly string[], path: PathParts): Problem[] {
  if (names.includes(name)) return [];
  return [problem(path, `there is no "${name}"`, `write ${oneOf(names.map((one) => `"${one}"`))}`)];
}

function shell(one: AirFile["reservoirs"][number], tanks: readonly string[], path: PathParts): Problem[] {
  if (one.sharesShellWith === undefined) return [];
  const others = tanks.filter((name) => name !== one.id);
  if (others.length > 0) return known(one.sharesShellWith, others, path);
  return [problem(path, "there is no other tank", "remove it")];
}
