import type { StartState } from "@brakeyard/engine";
import { toSi } from "@brakeyard/units";
import type { Assembly } from "../assemble/assemble.ts";
import type { StartRequest, TankStart } from "../assemble/start.ts";
import { oneOf, type Problem, problem } from "../text/problem.ts";
import { speedWords } from "./controlEntries.ts";
import type { RunFile } from "./runSchema.ts";

type StartFile = NonNullable<RunFile["start"]>;

/** Start values of a run, or what is wrong with what it says of them. */
export function runStart(file: RunFile, assembly: Assembly): { state: StartState; problems: Problem[] } {
  const given: StartFile = file.start ?? {};
  const problems = [
    ...unknown("tanks", given.tanks, assembly.tanks),
    ...unknownNodes(given, assembly),
    ...notFitted(given, assembly),
  ];
  const engineRpm = engineSpeed(given, assembly);
  if (typeof engineRpm !== "number") problems.push(engineRpm);
  if (problems.length > 0 || typeof engineRpm !== "number") return { state: {}, problems };
  return { state: withNodes(assembly.start(request(given, engineRpm)), given), problems };
}

function unknown(
  key: "tanks" | "nodes",
  given: Readonly<Record<string, unknown>> | undefined,
  known: readonly string[],
): Problem[] {
  const word = key === "tanks" ? "tank" : "node";
  return Object.keys(given ?? {})
    .filter((name) => !known.includes(name))
    .map((name) => problem(["start", key, name], `there is no ${word} "${name}"`, `write ${oneOf(known)}`));
}

function unknownNodes(given: StartFile, assembly: Assembly): Problem[] {
  return unknown(
    "nodes",
    given.nodes,
    assembly.model.nodes.map((node) => node.name),
  );
}

/** What can only be said of a vehicle that has the part. */
function notFitted(given: StartFile, assembly: Assembly): Problem[] {
  const controls = assembly.model.controls.map((control) => control.id);
  const modes = assembly.model.modes.map((mode) => mode.id);
  const needs: [keyof StartFile, boolean, string][] = [
    ["parking", controls.includes("parking"), "no parking control"],
    ["trailerSupply", controls.includes("trailerSupply"), "no trailer supply control"],
    ["key", controls.includes("key"), "no key"],
    ["chocks", controls.includes("chocks"), "nothing to chock"],
    ["compressor", modes.includes("governor.loaded"), "no compressor"],
    ["engine", assembly.speedsRpm !== null || given.engine === "off", "no engine"],
  ];
  return needs
    .filter(([key, fitted]) => given[key] !== undefined && !fitted)
    .map(([key, , lacks]) => problem(["start", key], `there is ${lacks} here`, "remove it"));
}

function engineSpeed(given: StartFile, assembly: Assembly): number | Problem {
  const speeds = assembly.speedsRpm;
  const engine = given.engine;
  if (engine === undefined || engine === "off" || !speeds) return 0;
  if (typeof engine === "string") return speedWords(speeds)[engine] ?? 0;
  const most = Math.max(speeds.governed, speeds.maximumRecommended);
  if (engine.value >= speeds.idle && engine.value <= most) return engine.value;
  const message = `${engine.value} rpm is not a speed at which this engine runs`;
  return problem(["start", "engine", "value"], message, `write "off", or ${speeds.idle} to ${most} rpm`);
}

type AirFile = NonNullable<StartFile["tanks"]>[string];

function tankStart(given: AirFile): TankStart {
  const { pressure, temperature } = given;
  return {
    gaugePa: toSi("pressure", pressure.value, pressure.unit),
    ...(temperature && { temperatureK: toSi("temperature", temperature.value, temperature.unit) }),
  };
}

function request(given: StartFile, engineRpm: number): StartRequest {
  const tanks = Object.entries(given.tanks ?? {}).map(([name, air]) => [name, tankStart(air)]);
  return {
    tanks: Object.fromEntries(tanks),
    ...(given.otherTanks && { otherTanksPa: toSi("pressure", given.otherTanks.value, given.otherTanks.unit) }),
    engineRpm,
    ...(given.key && { key: given.key === "on" ? 1 : 0 }),
    ...(given.parking && { parking: given.parking }),
    ...(given.trailerSupply && { trailerSupply: given.trailerSupply }),
    ...(given.compressor && { loaded: given.compressor === "loaded" }),
    ...(given.chocks && { chocks: given.chocks === "placed" ? 1 : 0 }),
  };
}

/** Nodes named one by one stand above everything else. */
function withNodes(state: StartState, given: StartFile): StartState {
  const nodes = Object.entries(given.nodes ?? {}).map(([name, air]) => {
    const { gaugePa, temperatureK } = tankStart(air);
    return [name, { gaugePressurePa: gaugePa, ...(temperatureK !== undefined && { temperatureK }) }];
  });
  return { ...state, nodes: { ...state.nodes, ...Object.fromEntries(nodes) } };
}
