import * as engine from "@brakeyard/engine";
import type { CompleteAuxiliary, CompleteMultiCircuit, CompleteReservoir } from "../complete/complete.ts";
import type { Plant, Tap } from "./plant.ts";
import { cylinderWalls, SEAT_PA, VALVE_CRITICAL_RATIO, valve } from "./sizes.ts";
import type { Rest } from "./start.ts";
import type { Unit } from "./unit.ts";

/** Joins each tank to what feeds it, through its check valve when it has one. */
export function feedTanks(unit: Unit, source: Tap): void {
  for (const tank of unit.air.reservoirs) {
    const name = unit.prefix + tank.id;
    const fed = tank.fedFrom.map((feeder) => unit.prefix + feeder);
    if (source.node !== name)
      feedTank(unit.plant, tank, name, unit.plant.meet(fed, "supply", unit.air.doubleCheckValves));
  }
}

function feedTank(plant: Plant, tank: CompleteReservoir, name: string, from: Tap): void {
  const { checkValve, checkConductance, checkCrack } = tank.values;
  const to = plant.tap(name);
  if (checkValve.value === "no") {
    const pipe = plant.net.orifice(`${name}.feed`, from.port, to.port, valve(checkConductance));
    plant.net.flowChannel(`${name}.feed`, [pipe, 1]);
    plant.sheet.join(from, { part: name, port: "1" }, { flow: `flow.${name}.feed`, circuit: "supply" });
    return;
  }
  const failed = plant.faults.signal("checkValveStuckOpen", name);
  const params = { size: valve(checkConductance), crackPa: checkCrack.si, openingPa: SEAT_PA };
  engine.addCheckValve(plant.net, `${name}.check`, { from: from.port, to: to.port, ...(failed && { failed }) }, params);
  drawCheckValve(plant, name, from, to);
}

function drawCheckValve(plant: Plant, tank: string, from: Tap, to: Tap): void {
  const id = `${tank}.check`;
  plant.sheet.part({
    id,
    kind: "checkValve",
    label: "Check valve",
    circuit: "supply",
    ports: { 1: from.node, 2: to.node },
    channels: { flow: `flow.${id}` },
    facts: {},
  });
  plant.sheet.join(from, { part: id, port: "1" }, { flow: `flow.${id}`, circuit: "supply" });
  plant.sheet.join({ ...to, part: id, number: "2" }, { part: tank, port: "1" }, { flow: `flow.${id}` });
}

/** Multi-circuit protection valve: each of its circuits becomes something to feed from. */
export function addMultiCircuit(unit: Unit, given: CompleteMultiCircuit): void {
  const { plant, air } = unit;
  const from = plant.meet(given.fedFrom, "supply", air.doubleCheckValves);
  const ports: Record<string, string> = { 1: from.node };
  const channels: Record<string, string> = {};
  given.circuits.forEach((circuit, i) => {
    const number = `2${i + 1}`;
    const tap = circuitTap(unit, circuit.id, number, from);
    const { opens, closes, conductance } = circuit.values;
    const params = {
      staticPa: closes.si,
      sourceShare: closes.si / opens.si,
      openingPa: SEAT_PA,
      oneWay: true,
      size: valve(conductance),
    };
    engine.addMultiCircuitProtectionValve(
      plant.net,
      "multiCircuitValve",
      {
        source: from.port,
        circuits: { [circuit.id]: tap.port },
        sensed: { [circuit.id]: feltAt(unit, circuit.id) ?? tap.port },
      },
      params,
    );
    plant.offer(circuit.id, tap);
    ports[number] = circuit.id;
    channels[number] = `flow.multiCircuitValve.${circuit.id}`;
  });
  const facts = Object.fromEntries(given.circuits.map((circuit) => [circuit.id, circuit.values.opens]));
  plant.sheet.part({
    id: "multiCircuitValve",
    kind: "multiCircuitValve",
    label: "Multi-circuit protection valve",
    circuit: "supply",
    ports,
    channels,
    facts,
  });
  plant.sheet.join(from, { part: "multiCircuitValve", port: "1" });
}

/** A seat feels the tank behind it. */
function feltAt(unit: Unit, circuit: string): engine.Port | undefined {
  const tank = unit.air.reservoirs.find((one) => one.fedFrom.includes(circuit));
  return tank && unit.plant.tap(unit.prefix + tank.id).port;
}

/** A circuit without a tank is a short pipe that holds what the source held last. */
function circuitTap(unit: Unit, id: string, number: string, from: Tap): Tap {
  const tanks = unit.air.reservoirs.filter((one) => one.fedFrom.includes(id)).map((one) => one.id);
  const rest: Rest = tanks.length > 0 ? (start) => Math.max(...tanks.map((tank) => start.tank(tank))) : from.rest;
  const port = unit.plant.line(id, CIRCUIT_PIPE_M3, rest, tanks);
  return { port, node: id, part: "multiCircuitValve", number, circuit: "supply", rest, drains: tanks };
}

/** One metre of 10 mm pipe. */
const CIRCUIT_PIPE_M3 = 0.00008;

/** Doors, suspension and the like behind their protection valve. */
export function addAuxiliary(unit: Unit, given: CompleteAuxiliary): void {
  const { plant, air } = unit;
  const name = unit.prefix + given.id;
  const fed = given.fedFrom.map((feeder) => unit.prefix + feeder);
  const from = plant.meet(fed, "auxiliary", air.doubleCheckValves);
  const port = plant.net.volume(name, {
    volumeM3: given.values.volume.si,
    heat: cylinderWalls(given.values.volume.si, 3),
  });
  const rest = protectedRest(from.rest, given.protection?.opens.si);
  plant.note(name, port, rest, from.drains);
  plant.offer(name, { port, node: name, part: name, number: "2", circuit: "auxiliary", rest, drains: from.drains });
  protect(plant, given, name, from, port);
  engine.addAuxiliaryLoad(plant.net, name, port, {
    conductance: given.values.use.si / USE_AT_PA,
    criticalRatio: VALVE_CRITICAL_RATIO,
  });
  plant.sheet.part({
    id: name,
    kind: "auxiliaryLoad",
    label: given.title,
    circuit: "auxiliary",
    ports: { 1: name },
    channels: { pressure: `pressure.${name}`, flow: `flow.load.${name}` },
    facts: { volume: given.values.volume },
  });
}

/** The stated use is at 100 psi: an orifice passes its sonic conductance times absolute pressure of free air. */
const USE_AT_PA = 790801;

/** Filled as far as its supply, unless that stands too low for the valve to have opened. */
function protectedRest(supply: Rest, opensPa: number | undefined): Rest {
  return (start) => (opensPa === undefined || supply(start) >= opensPa ? supply(start) : 0);
}

function protect(plant: Plant, given: CompleteAuxiliary, name: string, from: Tap, to: engine.Port): void {
  const id = `${name}.protection`;
  if (!given.protection) {
    const pipe = plant.net.orifice(`${name}.feed`, from.port, to, OPEN_FEED);
    plant.net.flowChannel(`${name}.feed`, [pipe, 1]);
    plant.sheet.join(from, { part: name, port: "1" }, { flow: `flow.${name}.feed`, circuit: "auxiliary" });
    return;
  }
  const failed = plant.faults.signal("protectionValveStuckOpen", name);
  const { opens, closes, conductance } = given.protection;
  const params = { opensPa: opens.si, closesPa: closes.si, oneWay: true, size: valve(conductance) };
  engine.addPressureProtectionValve(plant.net, id, { from: from.port, to, ...(failed && { failed }) }, params);
  plant.sheet.part({
    id,
    kind: "protectionValve",
    label: "Pressure protection valve",
    circuit: "auxiliary",
    ports: { 1: from.node, 2: name },
    channels: { flow: `flow.${id}` },
    facts: { opens, closes },
  });
  plant.sheet.join(from, { part: id, port: "1" }, { flow: `flow.${id}`, circuit: "auxiliary" });
  plant.sheet.join(
    { node: name, part: id, number: "2", circuit: "auxiliary" },
    { part: name, port: "1" },
    { flow: `flow.${id}` },
  );
}

const OPEN_FEED = { conductance: 4e-8, criticalRatio: VALVE_CRITICAL_RATIO };
