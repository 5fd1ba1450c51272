import * as engine from "@brakeyard/engine";
import type { CompleteParking } from "../complete/complete.ts";
import type { Plant, Tap } from "./plant.ts";
import { BODY_M3, pipe, SEAT_PA, valve } from "./sizes.ts";
import { addSprings, noteLine, type ParkingNeeds } from "./springs.ts";
import type { Rest } from "./start.ts";
import type { Unit } from "./unit.ts";

/** Parking control, modulating valve, spring valve, spring chambers. Returns the control's position as a signal. */
export function addParking(unit: Unit, parking: CompleteParking, needs: ParkingNeeds): engine.Signal {
  const { plant } = unit;
  const held: Rest = (start) => (start.parkingIn ? needs.supply.rest(start) : 0);
  const size = pipe(parking.springs.controlLength, parking.springs.controlBore);
  const end = engine.endVolumeM3(size) / 2;
  const delivery = plant.line("parkingDelivery", BODY_M3 + end, held, needs.supply.drains);
  const sticks = plant.faults.signal("parkingControlSticks");
  const inside = engine.addPushPullControl(
    plant.net,
    "parking",
    "parking control",
    { supply: needs.supply.port, delivery, sensed: needs.supply.port, needs: [], ...(sticks && { sticks }) },
    {
      popsOutPa: parking.control.popsOut.si,
      holdsInPa: parking.control.holdsIn.si,
      supply: valve(parking.control.conductance),
      exhaust: valve(parking.control.conductance),
    },
  );
  drawControl(plant, parking, needs.supply);
  const far = plant.line("parkingLine", BODY_M3 + end, held, needs.supply.drains);
  engine.addLine(plant.net, "parkingControlLine", { from: delivery, to: far }, size);
  noteLine(plant, "parkingControlLine", size, held);
  const arrived: Tap = {
    port: far,
    node: "parkingLine",
    part: "parkingControl",
    number: "2",
    circuit: "parking",
    rest: held,
    drains: needs.supply.drains,
  };
  addSprings(unit, parking, needs, addModulating(plant, parking, needs, arrived));
  return inside;
}

function drawControl(plant: Plant, parking: CompleteParking, supply: Tap): void {
  plant.sheet.part({
    id: "parkingControl",
    kind: "parkingControl",
    label: "Parking control",
    circuit: "parking",
    ports: { 1: supply.node, 2: "parkingDelivery", 3: undefined },
    channels: { position: "control.parking", flow: "flow.parking", exhaust: "flow.parking.exhaust" },
    facts: { popsOut: parking.control.popsOut, holdsIn: parking.control.holdsIn },
  });
  plant.sheet.join(supply, { part: "parkingControl", port: "1" }, { circuit: "parking" });
}

function addModulating(plant: Plant, parking: CompleteParking, needs: ParkingNeeds, line: Tap): Tap {
  const given = parking.modulating;
  if (!given) return line;
  const rest: Rest = (start) => Math.min(line.rest(start), given.holdOffLimit.si);
  const node = "springBrakeModulatingValve.outlet";
  const port = plant.line(node, 2 * BODY_M3, rest, line.drains);
  const { secondary } = needs.deliveries;
  engine.addSpringBrakeModulatingValve(
    plant.net,
    "springBrakeModulatingValve",
    { parking: line.port, delivery: port, primaryReservoir: needs.primaryTank.port, secondaryDelivery: secondary.port },
    {
      limitPa: given.holdOffLimit.si,
      changeoverPa: given.trips.si,
      changeoverWidthPa: 2 * SEAT_PA,
      gain: given.gain.si,
      hysteresisPa: given.hysteresis.si,
      seatPa: SEAT_PA,
      supply: valve(given.conductance),
      exhaust: valve(given.conductance),
    },
  );
  drawModulating(plant, parking, needs, line, node);
  return { ...line, port, node, part: "springBrakeModulatingValve", number: "2", rest };
}

function drawModulating(plant: Plant, parking: CompleteParking, needs: ParkingNeeds, line: Tap, node: string): void {
  const id = "springBrakeModulatingValve";
  const { secondary } = needs.deliveries;
  plant.sheet.part({
    id,
    kind: "springBrakeModulatingValve",
    label: "Spring brake modulating valve",
    circuit: "parking",
    ports: { 1: line.node, 2: node, 3: undefined, 41: needs.primaryTank.node, 42: secondary.node },
    channels: { flow: `flow.${id}`, exhaust: `flow.${id}.exhaust` },
    facts: { holdOffLimit: parking.modulating?.holdOffLimit, trips: parking.modulating?.trips },
  });
  plant.sheet.join(line, { part: id, port: "1" }, { flow: "flow.parkingControlLine" });
  plant.sheet.join(needs.primaryTank, { part: id, port: "41" }, { role: "signal" });
  plant.sheet.join(secondary, { part: id, port: "42" }, { role: "signal" });
}
