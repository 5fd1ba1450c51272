import * as z from "zod/mini";
import { driveline, engineSpeeds, masses, ratings } from "../parts/chassis.ts";
import { needed, open } from "../parts/part.ts";
import { type PathParts, type Problem, problem, shown } from "../text/problem.ts";
import { air } from "./air.ts";
import { axle } from "./axle.ts";
import { choice, identifier, judged, object, partSchema, quantity, words } from "./build.ts";

/** Newest format version this package reads; it writes no other. */
export const VEHICLE_VERSION = 1;
export const VEHICLE_FORMAT = "brakeyard-vehicle";

const built = () =>
  judged<string>((value: unknown, path: PathParts): Problem[] => {
    if (typeof value === "string" && /^(19|20)\d\d(-(0[1-9]|1[0-2])(-(0[1-9]|[12]\d|3[01]))?)?$/.test(value)) return [];
    const message = value === undefined ? "missing" : `${shown(value)} is not a date of building`;
    return [problem(path, message, 'write "2016", "2016-05" or "2016-05-14"')];
  });

const gear = object({ name: words(20), ratio: quantity(needed("ratio", "ratio", "1", [-40, 40])) });

/** Schema of a vehicle file, format version 1. What schemas cannot say is in ../check. */
export const vehicleSchema = object({
  format: z.literal(VEHICLE_FORMAT),
  version: z.literal(VEHICLE_VERSION),
  id: identifier(),
  title: words(80),
  note: z.optional(words(2000)),
  kind: choice("bus", "truck", "tractor", "trailer"),
  propulsion: choice("diesel", "petrol", "gas", "electric", "none"),
  built: built(),
  ratings: partSchema(ratings, {}),
  masses: z.optional(partSchema(masses, {})),
  wheelbase: z.optional(quantity(open("wheelbase", "length", "m", [1, 20]))),
  engineSpeeds: z.optional(partSchema(engineSpeeds, {})),
  driveline: z.optional(partSchema(driveline, { gears: z.optional(z.array(gear).check(z.maxLength(30))) })),
  axles: z.array(axle).check(z.minLength(1), z.maxLength(12)),
  air: z.optional(air),
});

/** A vehicle file, format version 1, as it stands in JSON. */
export type VehicleFile = z.infer<typeof vehicleSchema>;
export type AxleFile = VehicleFile["axles"][number];
export type BrakesFile = NonNullable<AxleFile["brakes"]>;
export type AirFile = NonNullable<VehicleFile["air"]>;
export type ReservoirFile = AirFile["reservoirs"][number];
