import * as engine from "@brakeyard/engine";
import { SUPPLY_COUPLING } from "../check/layout.ts";
import type { CompleteReservoir, CompleteTowed } from "../complete/complete.ts";
import { addAxleValve } from "./axleValve.ts";
import type { Plant, Tap } from "./plant.ts";
import { BODY_M3, pipe, SEAT_PA, valve } from "./sizes.ts";
import { addDirect, noteLine } from "./springs.ts";
import { EMPTY, type Rest } from "./start.ts";
import { leadAxles, springChambers, TRAILER, type Unit } from "./unit.ts";

/** The trailer's side of the couplings. */
export interface TrailerEnds {
  readonly supply: Tap;
  readonly service: Tap;
  readonly lines: CompleteTowed["lines"];
}

/** Pressure that rests in a trailer's supply line: what feeds it while the trailer supply control is in. */
export function trailerSupplyRest(fed: Rest): Rest {
  return (start) => (start.trailerSupplyIn ? fed(start) : 0);
}

/** Lines, spring or emergency valve and service valves of a trailer; tanks and chambers are there already. */
export function addTowed(unit: Unit, towed: CompleteTowed, supplied: Rest): TrailerEnds {
  const { plant } = unit;
  const supply = addLine(plant, towed, "supply", supplied);
  const service = addLine(plant, towed, "service", EMPTY);
  const tank = plant.tap(TRAILER + firstTank(unit).id);
  plant.offer(TRAILER + SUPPLY_COUPLING, supply.far);
  const springs = springChambers(unit).length > 0;
  if (springs) addSpringValve(unit, towed, supply.far, tank);
  const control = springs ? service.far : addEmergency(unit, towed, supply.far, service.far, tank);
  for (const lead of leadAxles(unit.vehicle)) {
    const from = plant.meet(
      lead.brakes.application.fedFrom.map((name) => TRAILER + name),
      "trailerService",
      unit.air.doubleCheckValves,
    );
    addAxleValve(unit, lead, control, from);
  }
  return { supply: supply.near, service: service.near, lines: towed.lines };
}

/** The tank that the spring valve fills. */
export function firstTank(unit: Unit): CompleteReservoir {
  const tank = unit.air.reservoirs.find((one) => one.fedFrom.includes(SUPPLY_COUPLING));
  if (!tank) throw new Error("no trailer tank is fed from the supply line; the checks refuse such a file");
  return tank;
}

function addLine(plant: Plant, towed: CompleteTowed, which: "supply" | "service", rest: Rest): { near: Tap; far: Tap } {
  const { lines } = towed;
  const size =
    which === "supply" ? pipe(lines.supplyLength, lines.supplyBore) : pipe(lines.serviceLength, lines.serviceBore);
  const end = BODY_M3 + engine.endVolumeM3(size) / 2;
  const name = `${TRAILER}${which}Line`;
  const near = plant.line(`${TRAILER}${which}Coupling`, end, rest, []);
  const far = plant.line(`${TRAILER}${which}`, end, rest, []);
  engine.addLine(plant.net, name, { from: near, to: far }, size);
  noteLine(plant, name, size, rest);
  const circuit = which === "supply" ? ("trailerSupply" as const) : ("trailerService" as const);
  const shared = { part: `coupling.${which}`, number: "2", circuit, rest, drains: [] };
  return {
    near: { ...shared, port: near, node: `${TRAILER}${which}Coupling` },
    far: { ...shared, port: far, node: `${TRAILER}${which}` },
  };
}

function reservoirCheck(tank: CompleteReservoir): engine.CheckValveParams {
  return { size: valve(tank.values.checkConductance), crackPa: tank.values.checkCrack.si, openingPa: SEAT_PA };
}

function addSpringValve(unit: Unit, towed: CompleteTowed, supply: Tap, tank: Tap): void {
  const { plant } = unit;
  const { springValve } = towed;
  const chambers = springChambers(unit);
  const id = `${TRAILER}springValve`;
  const rest = springValveRest(towed, supply.rest);
  const halves = chambers.length * (engine.endVolumeM3(springHose()) / 2);
  const springs = plant.line(`${TRAILER}springs`, BODY_M3 + halves, rest, supply.drains);
  const checkFailed = plant.faults.signal("checkValveStuckOpen", tank.node);
  engine.addTrailerSpringValve(
    plant.net,
    id,
    { supply: supply.port, springs, reservoir: tank.port, ...(checkFailed && { checkFailed }) },
    {
      springs: valve(springValve.conductance),
      springExhaust: valve(springValve.exhaust),
      crackPa: springValve.crack.si,
      seatPa: SEAT_PA,
      priorityPa: springValve.priority.si,
      priorityWidthPa: 5 * SEAT_PA,
      reservoirCheck: reservoirCheck(firstTank(unit)),
    },
  );
  plant.sheet.part({
    id,
    kind: "trailerSpringValve",
    label: "Trailer spring brake valve",
    circuit: "trailerSupply",
    ports: { 1: supply.node, 21: tank.node, 22: `${TRAILER}springs`, 3: undefined },
    channels: { springs: `flow.${id}.springs`, reservoir: `flow.${id}.reservoir`, exhaust: `flow.${id}.exhaust` },
    facts: { priority: springValve.priority },
  });
  plant.sheet.join(supply, { part: id, port: "1" }, { flow: `flow.${TRAILER}supplyLine` });
  plant.sheet.join(
    { ...supply, part: id, number: "21", node: tank.node },
    { part: tank.part, port: "1" },
    { flow: `flow.${id}.reservoir` },
  );
  addDirect(
    plant,
    springHose(),
    { ...supply, port: springs, node: `${TRAILER}springs`, part: id, number: "22", rest },
    chambers,
  );
}

/** Spring chambers rest one crack pressure below the line that fills them. */
export function springValveRest(towed: CompleteTowed, supplied: Rest): Rest {
  return (start) => Math.max(0, supplied(start) - towed.springValve.crack.si);
}

/** Spring hoses of a trailer: two metres, 9.5 mm. Common practice, no source. */
export function springHose(): { lengthM: number; boreM: number } {
  return { lengthM: 2, boreM: 0.0095 };
}

/** Between service line and relay: what the relay listens to. */
function addEmergency(unit: Unit, towed: CompleteTowed, supply: Tap, service: Tap, tank: Tap): Tap {
  const { plant } = unit;
  const id = `${TRAILER}emergencyValve`;
  const node = `${TRAILER}control`;
  const port = plant.line(node, 2 * BODY_M3, EMPTY, tank.drains);
  engine.addEmergencyValve(
    plant.net,
    id,
    { supply: supply.port, reservoir: tank.port, service: service.port, control: port },
    {
      appliesPa: towed.emergencyValve.applies.si,
      widthPa: 5 * SEAT_PA,
      size: valve(towed.emergencyValve.conductance),
      check: reservoirCheck(firstTank(unit)),
    },
  );
  plant.sheet.part({
    id,
    kind: "emergencyValve",
    label: "Trailer emergency valve",
    circuit: "trailerSupply",
    ports: { 1: supply.node, 4: service.node, 21: tank.node, 22: node },
    channels: { apply: `flow.${id}.apply`, reservoir: `flow.${id}.reservoir` },
    facts: { applies: towed.emergencyValve.applies },
  });
  plant.sheet.join(supply, { part: id, port: "1" }, { flow: `flow.${TRAILER}supplyLine` });
  plant.sheet.join(
    { ...supply, part: id, number: "21", node: tank.node },
    { part: tank.part, port: "1" },
    { flow: `flow.${id}.reservoir` },
  );
  plant.sheet.join(service, { part: id, port: "4" }, { flow: `flow.${id}.service` });
  return { ...service, port, node, part: id, number: "22", drains: tank.drains, flow: `flow.${id}.service` };
}
