import type { FedFrom } from "../schema/air.ts";
import type { AirFile, AxleFile, ReservoirFile, VehicleFile } from "../schema/vehicle.ts";
import type { PathParts } from "../text/problem.ts";

/** Names that stand for where air comes from; no part may take them. */
export const COMPRESSOR = "compressor";
export const SUPPLY_COUPLING = "supplyCoupling";

/** What feeds one part, after defaults, and where that is said. */
export interface Supply {
  /** Name of the part, or words for parts that have none. */
  readonly part: string;
  readonly feeders: readonly string[];
  readonly path: PathParts;
  /** Whether the file says it itself. */
  readonly said: boolean;
}

function list(fedFrom: FedFrom): readonly string[] {
  return typeof fedFrom === "string" ? [fedFrom] : fedFrom;
}

function supply(part: string, path: PathParts, said: FedFrom | undefined, otherwise: readonly string[]): Supply {
  return { part, path, said: said !== undefined, feeders: said === undefined ? otherwise : list(said) };
}

/** First tank with a role; with several, the file says itself which is meant wherever it matters. */
export function tankOf(air: AirFile, role: ReservoirFile["role"]): string | undefined {
  return air.reservoirs.find((reservoir) => reservoir.role === role)?.id;
}

/** Where air comes into the vehicle's system. */
export function sourceOf(file: VehicleFile): string {
  return file.kind === "trailer" ? SUPPLY_COUPLING : COMPRESSOR;
}

/** What feeds a tank, unless the file says otherwise: the supply tank if there is one, else the source itself. */
function tankSupply(file: VehicleFile, air: AirFile, index: number): Supply {
  const reservoir = air.reservoirs[index] as ReservoirFile;
  const wet = reservoir.role === "supply" ? undefined : tankOf(air, "supply");
  const path = ["air", "reservoirs", index, "fedFrom"];
  return supply(reservoir.id, path, reservoir.fedFrom, [wet ?? sourceOf(file)]);
}

/** What feeds the multi-circuit protection valve. */
export function multiCircuitSupply(file: VehicleFile, air: AirFile): Supply | undefined {
  if (!air.multiCircuitValve) return undefined;
  const path = ["air", "multiCircuitValve", "fedFrom"];
  return supply("multiCircuitValve", path, air.multiCircuitValve.fedFrom, [tankOf(air, "supply") ?? sourceOf(file)]);
}

/** Tanks, circuits of the multi-circuit valve and auxiliaries: whatever another part may be fed from. */
export function namedSupplies(file: VehicleFile, air: AirFile): readonly Supply[] {
  const valve = multiCircuitSupply(file, air);
  const circuits = air.multiCircuitValve?.circuits ?? [];
  return [
    ...air.reservoirs.map((_, index) => tankSupply(file, air, index)),
    ...circuits.map((circuit, index) => ({
      part: circuit.id,
      feeders: valve?.feeders ?? [],
      path: ["air", "multiCircuitValve", "circuits", index],
      said: valve?.said ?? false,
    })),
    ...(air.auxiliaries ?? []).map((auxiliary, index) =>
      supply(auxiliary.id, ["air", "auxiliaries", index, "fedFrom"], auxiliary.fedFrom, []),
    ),
  ];
}

function known(...names: (string | undefined)[]): string[] {
  return names.filter((name): name is string => name !== undefined);
}

/** Parts that take air but feed no other part by name: foot valve sections, parking, trailer connection. */
export function usersOfAir(file: VehicleFile, air: AirFile): readonly Supply[] {
  if (file.kind === "trailer") return [];
  const tanks = known(tankOf(air, "primary"), tankOf(air, "secondary"));
  const foot = air.footValve;
  const primary = known(tankOf(air, "primary"));
  const secondary = known(tankOf(air, "secondary"));
  const parking = supply("parking", ["air", "parking", "fedFrom"], air.parking?.fedFrom, tanks);
  const users = [
    supply("footValve.primary", ["air", "footValve", "primaryFrom"], foot?.primaryFrom, primary),
    supply("footValve.secondary", ["air", "footValve", "secondaryFrom"], foot?.secondaryFrom, secondary),
    parking,
  ];
  if (file.kind !== "tractor" && !air.trailerConnection) return users;
  const path = ["air", "trailerConnection", "fedFrom"];
  return [...users, supply("trailerConnection", path, air.trailerConnection?.fedFrom, parking.feeders)];
}

/** What feeds a part, after defaults. */
export function feedersOf(file: VehicleFile, air: AirFile, part: string): Supply {
  const all = [...namedSupplies(file, air), ...usersOfAir(file, air)];
  const valve = multiCircuitSupply(file, air);
  const found = part === "multiCircuitValve" ? valve : all.find((entry) => entry.part === part);
  if (!found) throw new Error(`there is no part ${part} in ${file.id}`);
  return found;
}

/** Service circuit of an axle: steering axles secondary, the others primary, as is usual; on a trailer its one service line. */
export function circuitOf(file: VehicleFile, axle: AxleFile): "primary" | "secondary" | "service" {
  if (file.kind === "trailer") return "service";
  return axle.brakes?.application?.circuit ?? (axle.steering ? "secondary" : "primary");
}

/** Whether any brake of the vehicle has a spring chamber. */
export function hasSprings(file: VehicleFile): boolean {
  return file.axles.some((axle) => axle.brakes !== undefined && axle.brakes.springType.value !== "none");
}
