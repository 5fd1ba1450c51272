import type { AirFile, VehicleFile } from "../schema/vehicle.ts";
import { oneOf, type Problem, problem, shown } from "../text/problem.ts";
import {
  COMPRESSOR,
  multiCircuitSupply,
  namedSupplies,
  SUPPLY_COUPLING,
  type Supply,
  sourceOf,
  usersOfAir,
} from "./layout.ts";

/** Every supply must exist, and air must be able to reach every part from where it comes in. */
export function checkSupplies(file: VehicleFile, air: AirFile): Problem[] {
  const named = namedSupplies(file, air);
  const valve = multiCircuitSupply(file, air);
  const all = [...named, ...usersOfAir(file, air), ...(valve ? [valve] : [])];
  const names = new Set([sourceOf(file), ...named.map((entry) => entry.part)]);
  const problems = all.flatMap((entry) => missingFeeders(entry, names));
  return problems.length > 0 ? problems : unreachable(named, sourceOf(file));
}

function missingFeeders(entry: Supply, names: ReadonlySet<string>): Problem[] {
  if (entry.feeders.length === 0) return [problem(entry.path, "nothing feeds it", `write one of ${oneOf([...names])}`)];
  return entry.feeders.flatMap((feeder, i) => {
    if (names.has(feeder)) return [];
    const path = entry.feeders.length > 1 ? [...entry.path, i] : entry.path;
    const message = entry.said
      ? `there is no ${shown(feeder)} to be fed from`
      : `${feeder} would feed it but is not in the file`;
    return [problem(path, message, `write one of ${oneOf([...names])}`)];
  });
}

/**
 * Parts that no air can reach. A part with several feeders (a double check valve) is reached as soon as one of them is, so that
 * circuits which part and meet again are in order; a part that only its own outlet feeds is not.
 */
function unreachable(named: readonly Supply[], source: string): Problem[] {
  const reached = new Set([source]);
  for (let grew = true; grew; ) {
    const next = named.filter(
      (entry) => !reached.has(entry.part) && entry.feeders.some((feeder) => reached.has(feeder)),
    );
    for (const entry of next) reached.add(entry.part);
    grew = next.length > 0;
  }
  return named.filter((entry) => !reached.has(entry.part)).map((entry) => loop(entry, named, source));
}

function loop(entry: Supply, named: readonly Supply[], source: string): Problem {
  const remedy = `feed one of them from ${source} or from a tank that it reaches`;
  if (entry.feeders.every((feeder) => feeder === entry.part))
    return problem(entry.path, "it is fed only from itself", remedy);
  const byName = new Map(named.map((one) => [one.part, one]));
  const chain: string[] = [entry.part];
  for (
    let at: string | undefined = entry.feeders[0];
    at !== undefined && !chain.includes(at);
    at = byName.get(at)?.feeders[0]
  ) {
    chain.push(at);
  }
  return problem(
    entry.path,
    `no air can reach it: it is fed in a circle, ${[...chain, chain[0]].join(" from ")}`,
    remedy,
  );
}

/** Names must be there once only, and none may be a word with a meaning of its own. */
export function checkNames(file: VehicleFile): Problem[] {
  const air = file.air;
  const places: [string, (string | number)[]][] = file.axles.map((axle, i) => [axle.id, ["axles", i, "id"]]);
  air?.reservoirs.forEach((one, i) => {
    places.push([one.id, ["air", "reservoirs", i, "id"]]);
  });
  air?.multiCircuitValve?.circuits.forEach((one, i) => {
    places.push([one.id, ["air", "multiCircuitValve", "circuits", i, "id"]]);
  });
  air?.auxiliaries?.forEach((one, i) => {
    places.push([one.id, ["air", "auxiliaries", i, "id"]]);
  });
  return [...repeated(places), ...repeatedGauges(air)];
}

/** Names that the model itself uses for its nodes. */
const TAKEN = [
  COMPRESSOR,
  SUPPLY_COUPLING,
  "discharge",
  "dryer",
  "pedal",
  "parking",
  "engine",
  "governor",
  "total",
  "application",
];

function repeated(places: readonly [string, (string | number)[]][]): Problem[] {
  const seen = new Set(TAKEN);
  return places.flatMap(([name, path]) => {
    const taken = TAKEN.includes(name) ? "has a meaning of its own" : "is used twice";
    if (seen.has(name)) return [problem(path, `the name "${name}" ${taken}`, "choose another name")];
    seen.add(name);
    return [];
  });
}

function repeatedGauges(air: AirFile | undefined): Problem[] {
  const ids = (air?.gauges ?? []).map((gauge) => gauge.id);
  return ids.flatMap((id, i) =>
    ids.indexOf(id) < i
      ? [problem(["air", "gauges", i, "id"], `the name "${id}" is used twice`, "choose another name")]
      : [],
  );
}
