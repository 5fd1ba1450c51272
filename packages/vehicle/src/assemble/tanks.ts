import * as engine from "@brakeyard/engine";
import type { CompleteReservoir } from "../complete/complete.ts";
import type { Plant } from "./plant.ts";
import type { Circuit } from "./schematic.ts";
import { cylinderWalls, hole, valve } from "./sizes.ts";
import type { Rest } from "./start.ts";

/** Circuit in whose pattern a tank is drawn. */
function tankCircuit(role: string): Circuit {
  const circuits: Record<string, Circuit> = {
    primary: "primary",
    secondary: "secondary",
    parking: "parking",
    auxiliary: "auxiliary",
    trailer: "trailerSupply",
  };
  return circuits[role] ?? "supply";
}

/** Tanks, each a tap that others may be fed from. */
export function addTanks(plant: Plant, tanks: readonly CompleteReservoir[], prefix: string): void {
  for (const tank of tanks) addTank(plant, tank, tanks, prefix);
}

/** A tank and those that go down with it: what feeds it through check valves follows its fall. */
function withFeeders(tank: CompleteReservoir, all: readonly CompleteReservoir[]): string[] {
  const feeders = all.filter((one) => tank.fedFrom.includes(one.id));
  return [tank.id, ...feeders.flatMap((one) => withFeeders(one, all))];
}

function addTank(plant: Plant, tank: CompleteReservoir, all: readonly CompleteReservoir[], prefix: string): void {
  const name = prefix + tank.id;
  const { values } = tank;
  const shared = (tank.sharesShellWith === null ? 0 : 1) + all.filter((one) => one.sharesShellWith === tank.id).length;
  const port = engine.addReservoir(plant.net, name, {
    volumeM3: values.volume.si,
    heat: cylinderWalls(values.volume.si, values.slenderness.si, Math.min(2, shared)),
    waterM3: values.water.si,
    drain: hole(values.drainBore.si),
  });
  const rest: Rest = (start) => start.tank(name);
  plant.tankM3.set(name, values.volume.si);
  const drains = withFeeders(tank, all).map((id) => prefix + id);
  plant.note(name, port, rest, drains);
  plant.offer(name, {
    port,
    node: name,
    part: name,
    number: "2",
    circuit: tankCircuit(tank.role),
    rest,
    drains,
  });
  if (tank.safetyValve) addSafetyValve(plant, name, port, tank.safetyValve);
  plant.sheet.part({
    id: name,
    kind: "reservoir",
    label: tank.title,
    circuit: tankCircuit(tank.role),
    ports: { 1: name, 2: name, 3: undefined },
    channels: {
      pressure: `pressure.${name}`,
      temperature: `temperature.${name}`,
      water: `water.${name}`,
      drain: `flow.${name}.drain`,
    },
    facts: { volume: values.volume, drain: values.drain },
  });
}

function addSafetyValve(
  plant: Plant,
  tank: string,
  port: engine.Port,
  given: NonNullable<CompleteReservoir["safetyValve"]>,
): void {
  const name = `${tank}.safetyValve`;
  const opensPa = given.opens.si;
  engine.addSafetyValve(
    plant.net,
    name,
    { from: port },
    { opensPa, reseatsPa: Math.max(0, opensPa - given.reseatDrop.si), size: valve(given.conductance) },
  );
  plant.sheet.part({
    id: name,
    kind: "safetyValve",
    label: "Safety valve",
    circuit: "supply",
    ports: { 1: tank, 3: undefined },
    channels: { position: `mode.${name}.open`, flow: `flow.${name}` },
    facts: { opens: given.opens },
  });
  plant.sheet.join(plant.tap(tank), { part: name, port: "1" });
}
