import { toSi } from "@brakeyard/units";
import { type Limit, type PublishedId, publishedRulebook, type Rulebook, type VehicleFacts } from "../src/index.ts";

/** A city bus of 2016. */
export const BUS: VehicleFacts = {
  kind: "bus",
  built: "2016-05",
  gross: 16300,
  axles: 2,
  combination: "single",
  circuits: "dual",
  brakes: "air",
  antilock: true,
  carChassis: false,
  seats: 40,
};

/** A two-axle tractor of 2016, coupled. */
export const TRACTOR: VehicleFacts = {
  kind: "tractor",
  built: "2016-05",
  gross: toSi("mass", 36000, "lb"),
  axles: 2,
  combination: "combination",
  circuits: "dual",
  brakes: "air",
  antilock: true,
  towed: toSi("mass", 65000, "lb"),
};

/** A three-axle truck of UN Regulation 13. */
export const N3: VehicleFacts = {
  kind: "truck",
  category: "N3",
  axles: 3,
  combination: "single",
  mayTow: false,
  brakes: "air",
};

/** One limit of a rulebook. */
export function limitOf(rulebook: Rulebook, id: string): Limit {
  const found = rulebook.limits.find((one) => one.id === id);
  if (!found) throw new Error(`no limit ${id}`);
  return found;
}

/** One published limit. */
export function published(rulebook: PublishedId, id: string): Limit {
  return limitOf(publishedRulebook(rulebook), id);
}
