import {
  AssemblyError,
  assemble,
  type CompleteVehicle,
  completeVehicle,
  fleet,
  loadVehicle,
  STANDARD_RIG,
  summariseVehicle,
} from "@brakeyard/vehicle";
import { onlyPositional, readArguments } from "./arguments.ts";
import { say } from "./console.ts";
import { readInput } from "./files.ts";
import { badInput, EXIT, type ExitCode, Stop } from "./outcome.ts";
import { problemLines } from "./problems.ts";
import { summaryLines } from "./summary.ts";

const FLEET = "fleet:";

/** `brakeyard vehicle check|summary FILE`. */
export function vehicleCommand(args: readonly string[]): ExitCode {
  const [what, ...rest] = args;
  if (what === "check") return check(rest);
  if (what === "summary") return summary(rest);
  const found = what === undefined ? "nothing was asked for" : `"${what}" is no such command`;
  throw new Stop([`${found}; write: brakeyard vehicle check FILE, or brakeyard vehicle summary FILE`], EXIT.badInput);
}

function check(args: readonly string[]): ExitCode {
  const { positionals } = readArguments(args, {});
  const { vehicle, notes, file } = accepted(onlyPositional(positionals, "brakeyard vehicle check FILE"));
  const { counts } = summariseVehicle(vehicle);
  say(`${file}: accepted, "${vehicle.title}"`);
  say(`values: ${counts.measured} measured, ${counts.plate} from plates, ${counts.typical} typical`);
  for (const note of notes) say(`note: ${note}`);
  return EXIT.ok;
}

function summary(args: readonly string[]): ExitCode {
  const { values, positionals } = readArguments(args, { json: { type: "boolean", default: false } });
  const { vehicle } = accepted(onlyPositional(positionals, "brakeyard vehicle summary FILE [--json]"));
  const found = summariseVehicle(vehicle);
  if (values.json) say(JSON.stringify(found, null, 2));
  else for (const line of summaryLines(found)) say(line);
  return EXIT.ok;
}

interface Accepted {
  readonly file: string;
  readonly vehicle: CompleteVehicle;
  readonly notes: readonly string[];
}

/** A vehicle file that loads and can be put together; anything else is bad input. */
function accepted(file: string): Accepted {
  const loaded = loadVehicle(textOf(file));
  if (!loaded.ok) throw new Stop(problemLines(file, loaded.problems), EXIT.badInput);
  const vehicle = completeVehicle(loaded.vehicle);
  putTogether(file, vehicle);
  return { file, vehicle, notes: loaded.notes };
}

function textOf(file: string): string {
  if (!file.startsWith(FLEET)) return readInput(file);
  const id = file.slice(FLEET.length);
  const found = fleet.find((one) => one.id === id);
  if (found) return found.vehicle();
  throw badInput(file, `the fleet has no "${id}"`, `It has ${fleet.map((one) => one.id).join(", ")}`);
}

function putTogether(file: string, vehicle: CompleteVehicle): void {
  if (vehicle.kind === "trailer" && !vehicle.air) return;
  try {
    assemble(vehicle.kind === "trailer" ? { trailer: vehicle, rig: STANDARD_RIG } : { vehicle });
  } catch (error) {
    if (error instanceof AssemblyError) throw badInput(`${file}: ${error.subject}`, error.message, error.remedy);
    throw error;
  }
}
