import { checkAxles } from "./check/axles.ts";
import { checkReferences } from "./check/references.ts";
import { checkSections } from "./check/sections.ts";
import { checkNames, checkSupplies } from "./check/supplies.ts";
import { checkValues, notesOn } from "./check/values.ts";
import { completeVehicle } from "./complete/completeVehicle.ts";
import { migrate, vehicleMigrations } from "./migrations/index.ts";
import { issuesInWords } from "./schema/build.ts";
import { VEHICLE_FORMAT, VEHICLE_VERSION, type VehicleFile, vehicleSchema } from "./schema/vehicle.ts";
import { type Loaded, type PathParts, type Problem, problem } from "./text/problem.ts";
import { checkHead, readText } from "./text/readText.ts";

/**
 * Reads a vehicle file: accepts it whole or refuses it with everything found wrong, each with its place and its remedy.
 * Nothing is repaired. Texts above {@link LONGEST_TEXT} are refused unread.
 *
 * @param text the file's content
 * @returns the vehicle with notes on what was taken as usual, or the problems
 */
export function loadVehicle(text: string): Loaded<"vehicle", VehicleFile> {
  const read = readText(text);
  return read.ok ? loadVehicleJson(read.raw) : read;
}

/**
 * The same for JSON already parsed, as a run file holds it.
 * @param raw what JSON.parse made
 * @param at where it stands, to begin paths with
 */
export function loadVehicleJson(raw: Record<string, unknown>, at: PathParts = []): Loaded<"vehicle", VehicleFile> {
  const head = checkHead(raw, VEHICLE_FORMAT, VEHICLE_VERSION);
  if (head.length > 0) return refused(head, at);
  const migrated = migrate(raw, vehicleMigrations, VEHICLE_VERSION);
  const parsed = vehicleSchema.safeParse(migrated.raw, { reportInput: true, jitless: true });
  if (!parsed.success) return refused(issuesInWords(parsed.error.issues), at);
  const vehicle = parsed.data;
  const problems = checkStructure(vehicle);
  if (problems.length > 0) return refused(problems, at);
  const complete = completeVehicle(vehicle);
  const clashes = checkValues(complete);
  if (clashes.length > 0) return refused(clashes, at);
  return { ok: true, vehicle, notes: [...migrated.notes, ...notesOn(complete)] };
}

/** What a schema cannot say, before anything is filled in. Supplies are looked at once names and sections are right. */
function checkStructure(file: VehicleFile): Problem[] {
  const problems = [...checkAxles(file), ...checkNames(file), ...checkSections(file)];
  if (problems.length > 0 || !file.air) return problems;
  return [...checkReferences(file, file.air), ...checkSupplies(file, file.air)];
}

function refused(problems: readonly Problem[], at: PathParts): Loaded<"vehicle", VehicleFile> {
  if (at.length === 0) return { ok: false, problems };
  const prefix = problem(at, "", "").path;
  return { ok: false, problems: problems.map((one) => ({ ...one, path: one.path.replace(/^\$/, () => prefix) })) };
}
