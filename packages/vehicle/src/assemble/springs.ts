import * as engine from "@brakeyard/engine";
import type { CompleteParking } from "../complete/complete.ts";
import { relayParams } from "./axleValve.ts";
import type { Plant, Tap } from "./plant.ts";
import type { Deliveries } from "./service.ts";
import { BODY_M3, inSeries, pipe, pipeFlow, SEAT_PA, valve } from "./sizes.ts";
import { EMPTY, type Rest } from "./start.ts";
import { type Chamber, springChambers, type Unit } from "./unit.ts";

/** Near halves of the spring hoses, and what stands in the spring chambers at the start. */
export interface SpringAir {
  readonly rest: Rest;
  readonly hoseHalfM3: number;
}

/** Pressure that rests in spring chambers: what feeds them, up to the limit of a modulating valve, while the control is in. */
export function springAir(parking: CompleteParking, supply: Rest): SpringAir {
  const limit = parking.modulating?.holdOffLimit.si ?? Number.POSITIVE_INFINITY;
  const { springs } = parking;
  const relay = springs.via.value === "relay";
  const rest: Rest = (start) => {
    if (!start.parkingIn) return 0;
    const control = Math.min(supply(start), limit);
    return relay ? lapped(control, springs, supply(start)) : control;
  };
  return { rest, hoseHalfM3: engine.endVolumeM3(pipe(springs.hoseLength, springs.hoseBore)) / 2 };
}

/** Where a relay laps: in the middle of its band, never above its supply nor below the open air. */
function lapped(controlPa: number, relay: CompleteParking["springs"], supplyPa: number): number {
  const middle = relay.gain.si * controlPa - relay.crack.si + relay.hysteresis.si / 2;
  return Math.max(0, Math.min(middle, supplyPa));
}

/** What the parking circuit needs from the rest of the vehicle. */
export interface ParkingNeeds {
  readonly supply: Tap;
  readonly deliveries: Deliveries;
  /** Service pressure at the spring axles, for anti-compounding. */
  readonly serviceAtSprings: Tap;
  /** Tank whose loss a modulating valve feels. */
  readonly primaryTank: Tap;
}

/** Nodes within a long pipe start like its ends. */
export function noteLine(plant: Plant, name: string, size: { lengthM: number; boreM: number }, rest: Rest): void {
  for (let i = 1; i < engine.segmentCount(size); i++) plant.noteInner(`${name}.${i}`, rest);
}

/** From the parking line to the spring chambers, by relay, quick release valve or straight. */
export function addSprings(unit: Unit, parking: CompleteParking, needs: ParkingNeeds, control: Tap): void {
  const chambers = springChambers(unit);
  if (parking.springs.via.value === "relay") addSpringRelay(unit, parking, needs, control, chambers);
  else if (parking.springs.via.value === "quickRelease") addSpringQuickRelease(unit, parking, needs, control, chambers);
  else addDirect(unit.plant, springHose(parking), springLine(unit, parking, needs, control), chambers);
}

function springHose(parking: CompleteParking): engine.LineParams {
  return pipe(parking.springs.hoseLength, parking.springs.hoseBore);
}

function hoseHalves(parking: CompleteParking, chambers: readonly Chamber[]): number {
  return (chambers.length * engine.endVolumeM3(springHose(parking))) / 2;
}

function addSpringRelay(
  unit: Unit,
  parking: CompleteParking,
  needs: ParkingNeeds,
  control: Tap,
  chambers: readonly Chamber[],
): void {
  const { plant } = unit;
  const id = "springRelay";
  const node = `${id}.delivery`;
  const rest = springAir(parking, needs.supply.rest).rest;
  const port = plant.line(node, BODY_M3 + hoseHalves(parking, chambers), rest, needs.supply.drains);
  const second = antiCompounds(parking) ? servicePilot(plant, needs) : undefined;
  engine.addRelayValve(
    plant.net,
    id,
    {
      supply: needs.supply.port,
      control: control.port,
      delivery: port,
      ...(second && { secondControl: { port: second.port } }),
    },
    relayParams(parking.springs),
  );
  plant.sheet.part({
    id,
    kind: "relayValve",
    label: "Spring brake relay valve",
    circuit: "parking",
    ports: { 1: needs.supply.node, 2: node, 3: undefined, 41: control.node, ...(second && { 42: second.node }) },
    channels: {
      position: `opening.${id}`,
      exhausting: `exhausting.${id}`,
      flow: `flow.${id}`,
      exhaust: `flow.${id}.exhaust`,
    },
    facts: { antiCompounding: parking.springs.antiCompounding },
  });
  plant.sheet.join(needs.supply, { part: id, port: "1" }, { flow: `flow.${id}.supply`, circuit: "parking" });
  plant.sheet.join(control, { part: id, port: "41" }, { role: "signal" });
  if (second) plant.sheet.join(needs.serviceAtSprings, { part: id, port: "42" }, { role: "signal" });
  addDirect(plant, springHose(parking), { ...control, port, node, part: id, number: "2", rest }, chambers);
}

function antiCompounds(parking: CompleteParking): boolean {
  return parking.springs.antiCompounding.value === "yes";
}

/** The service pressure that the spring valve feels. A fault shuts it off and lets the signal line down. */
function servicePilot(plant: Plant, needs: ParkingNeeds): Tap {
  const service = needs.serviceAtSprings;
  const failed = plant.faults.signal("antiCompoundingFailed");
  if (!failed) return service;
  const node = "springs.serviceSignal";
  const port = plant.line(node, 2 * BODY_M3, EMPTY, service.drains);
  const size = SIGNAL_LINE;
  plant.net.orifice("springs.serviceSignal.pipe", service.port, port, size, {
    factors: [engine.not(plant.net, "springs.serviceSignal.whole", failed)],
  });
  plant.net.orifice("springs.serviceSignal.vent", port, plant.net.atmosphere, size, { factors: [failed] });
  return { ...service, port, node };
}

/** A signal line of 6 mm bore and a metre or two, m3/(s Pa). */
const SIGNAL_LINE = { conductance: 2e-8, criticalRatio: 0.3 };

/** Without a relay, parking and service pressure meet at a double check valve before the springs. */
function springLine(unit: Unit, parking: CompleteParking, needs: ParkingNeeds, control: Tap): Tap {
  if (!antiCompounds(parking)) return control;
  const second = servicePilot(unit.plant, needs);
  return unit.plant.makeDoubleCheck("antiCompounding", control, second, "parking", unit.air.doubleCheckValves);
}

function addSpringQuickRelease(
  unit: Unit,
  parking: CompleteParking,
  needs: ParkingNeeds,
  control: Tap,
  chambers: readonly Chamber[],
): void {
  const { plant } = unit;
  const line = springLine(unit, parking, needs, control);
  const id = "springQuickRelease";
  const hose = pipeFlow(parking.springs.hoseLength, parking.springs.hoseBore);
  const outlets = Object.fromEntries(chambers.map((chamber) => [chamber.name, chamber.spring as engine.Port]));
  engine.addQuickReleaseValve(
    plant.net,
    id,
    { line: line.port, outlets },
    {
      crackPa: QUICK_CRACK_PA,
      seatPa: SEAT_PA,
      inlet: inSeries(valve(parking.springs.apply, 1 / chambers.length), hose),
      exhaust: inSeries(valve(parking.springs.exhaust, 1 / chambers.length), hose),
    },
  );
  const ports = Object.fromEntries(chambers.map((chamber, i) => [`2${i + 1}`, `${chamber.name}.spring`]));
  plant.sheet.part({
    id,
    kind: "quickRelease",
    label: "Spring brake quick release valve",
    circuit: "parking",
    ports: { 1: line.node, ...ports, 3: undefined },
    channels: { exhaust: `flow.${id}.exhaust` },
    facts: {},
  });
  plant.sheet.join(line, { part: id, port: "1" });
  chambers.forEach((chamber, i) => {
    const from = { node: `${chamber.name}.spring`, part: id, number: `2${i + 1}`, circuit: "parking" as const };
    plant.sheet.join(from, { part: `${chamber.name}.springBrake`, port: "1" }, { flow: `flow.${id}.${chamber.name}` });
  });
}

/** @source [PhysicsAir] 1.5: 1 to 3 psi, from memory */
const QUICK_CRACK_PA = SEAT_PA;

/** Hoses from one place to every spring chamber. */
export function addDirect(plant: Plant, size: engine.LineParams, from: Tap, chambers: readonly Chamber[]): void {
  for (const chamber of chambers) {
    const name = `${chamber.name}.springHose`;
    engine.addLine(plant.net, name, { from: from.port, to: chamber.spring as engine.Port }, size);
    noteLine(plant, name, size, from.rest);
    plant.sheet.join(from, { part: `${chamber.name}.springBrake`, port: "1" }, { flow: `flow.${name}` });
  }
}
