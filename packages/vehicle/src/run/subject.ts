import { toSi } from "@brakeyard/units";
import type { Subject } from "../assemble/assemble.ts";
import type { Rig } from "../assemble/options.ts";
import { STANDARD_RIG } from "../assemble/rig.ts";
import type { CompleteVehicle } from "../complete/complete.ts";
import { completeVehicle } from "../complete/completeVehicle.ts";
import { fleet } from "../fleet.ts";
import { loadVehicle, loadVehicleJson } from "../loadVehicle.ts";
import { oneOf, type Problem, problem } from "../text/problem.ts";
import type { RunFile, VehicleRef } from "./runSchema.ts";

/** Text of a file named in a run. Throws an Error that says why it cannot be had. */
export type ResolveFile = (path: string) => string;

type Found<T> = { readonly ok: true; readonly notes: readonly string[] } & T;
type Refused = { readonly ok: false; readonly problems: readonly Problem[] };

/** The vehicle or vehicles a run is about. */
export function subjectOf(file: RunFile, resolve: ResolveFile): Found<{ readonly subject: Subject }> | Refused {
  const shape = shapeProblem(file);
  if (shape) return { ok: false, problems: [shape] };
  const keys = (["vehicle", "tractor", "trailer"] as const).filter((key) => file[key] !== undefined);
  const found = keys.map((key) => ({ key, ...find(key, file[key] as VehicleRef, resolve) }));
  const problems = found.flatMap((one) => (one.ok ? [] : one.problems));
  if (problems.length > 0) return { ok: false, problems };
  const vehicles = Object.fromEntries(found.map((one) => [one.key, one.ok ? one.vehicle : undefined]));
  const notes = found.flatMap((one) => (one.ok ? one.notes.map((note) => `${one.key} ${note}`) : []));
  return { ok: true, notes, subject: asSubject(file, vehicles) };
}

function shapeProblem(file: RunFile): Problem | undefined {
  const remedy = "write vehicle; or tractor and trailer; or trailer and rig";
  const given = (["vehicle", "tractor", "trailer", "rig"] as const).filter((key) => file[key] !== undefined).join("+");
  if (["vehicle", "tractor+trailer", "trailer+rig"].includes(given)) return undefined;
  const first = given.split("+")[0] || "vehicle";
  return problem([first], given === "" ? "the run names no vehicle" : `${given} do not make one run`, remedy);
}

function asSubject(file: RunFile, vehicles: Partial<Record<string, CompleteVehicle>>): Subject {
  const { vehicle, tractor, trailer } = vehicles;
  if (vehicle) return { vehicle };
  if (tractor && trailer) return { tractor, trailer };
  return { trailer: trailer as CompleteVehicle, rig: rigOf(file) };
}

function rigOf(file: RunFile): Rig {
  const { pressure, tank } = file.rig ?? {};
  return {
    pressurePa: pressure ? toSi("pressure", pressure.value, pressure.unit) : STANDARD_RIG.pressurePa,
    tankM3: tank ? toSi("volume", tank.value, tank.unit) : STANDARD_RIG.tankM3,
  };
}

function find(
  key: string,
  ref: VehicleRef,
  resolve: ResolveFile,
): Found<{ readonly vehicle: CompleteVehicle }> | Refused {
  const loaded = "inline" in ref ? loadVehicleJson(ref.inline, [key, "inline"]) : fromText(key, ref, resolve);
  if (!loaded.ok) return loaded;
  return { ok: true, notes: loaded.notes, vehicle: completeVehicle(loaded.vehicle) };
}

function fromText(
  key: string,
  ref: { fleet: string } | { file: string },
  resolve: ResolveFile,
): ReturnType<typeof loadVehicle> {
  const text = "fleet" in ref ? fleetText(key, ref.fleet) : fileText(key, ref.file, resolve);
  if (typeof text !== "string") return { ok: false, problems: [text] };
  const loaded = loadVehicle(text);
  if (loaded.ok) return loaded;
  const from = "file" in ref ? ref.file : ref.fleet;
  return { ok: false, problems: loaded.problems.map((one) => ({ ...one, path: `${from}: ${one.path}` })) };
}

function fleetText(key: string, id: string): string | Problem {
  const found = fleet.find((one) => one.id === id);
  const remedy = `write ${oneOf(fleet.map((one) => `"${one.id}"`))}`;
  return found ? found.vehicle() : problem([key, "fleet"], `the fleet has no "${id}"`, remedy);
}

function fileText(key: string, path: string, resolve: ResolveFile): string | Problem {
  try {
    return resolve(path);
  } catch (error) {
    const why = error instanceof Error ? error.message : "it cannot be read";
    return problem(
      [key, "file"],
      `${path}: ${why}`,
      "write the path of a vehicle file, from the run file's own folder",
    );
  }
}
