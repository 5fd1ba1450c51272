import * as engine from "@brakeyard/engine";
import type { CompleteTrailerConnection } from "../complete/complete.ts";
import type { Plant, Tap } from "./plant.ts";
import type { Deliveries } from "./service.ts";
import { BODY_M3, pipe, SEAT_PA, valve } from "./sizes.ts";
import { noteLine } from "./springs.ts";
import { EMPTY, type Rest } from "./start.ts";
import type { Unit } from "./unit.ts";

/** The tractor's side of the couplings. */
export interface TractorEnds {
  readonly supply: Tap;
  readonly service: Tap;
  readonly lines: CompleteTrailerConnection["lines"];
  /** Hand valve delivery, for the stop lamp. */
  readonly hand: Tap | undefined;
}

/**
 * Trailer supply control, hand valve, tractor protection valve and the two lines to the couplings.
 * @param parkingIn position of the parking control, which the trailer supply control follows out
 */
export function addConnection(
  unit: Unit,
  given: CompleteTrailerConnection,
  deliveries: Deliveries,
  parkingIn: engine.Signal | undefined,
): TractorEnds {
  const { plant, air } = unit;
  const from = plant.meet(given.fedFrom, "trailerSupply", air.doubleCheckValves);
  const supply = addSupplyLine(plant, given, from, parkingIn);
  const foot = plant.makeDoubleCheck(
    "serviceDoubleCheck",
    deliveries.primary,
    deliveries.secondary,
    "trailerService",
    air.doubleCheckValves,
  );
  const hand = given.handValve.fitted.value === "yes" ? addHandValve(plant, given, from) : undefined;
  const asked = hand
    ? plant.makeDoubleCheck("handDoubleCheck", foot, hand, "trailerService", air.doubleCheckValves)
    : foot;
  return { supply, service: addServiceLine(plant, given, asked, supply), lines: given.lines, hand };
}

function addSupplyLine(
  plant: Plant,
  given: CompleteTrailerConnection,
  from: Tap,
  parkingIn: engine.Signal | undefined,
): Tap {
  const held: Rest = (start) => (start.trailerSupplyIn ? from.rest(start) : 0);
  const size = pipe(given.lines.supplyLength, given.lines.supplyBore);
  const end = engine.endVolumeM3(size) / 2;
  const delivery = plant.line("trailerSupplyDelivery", BODY_M3 + end, held, from.drains);
  engine.addPushPullControl(
    plant.net,
    "trailerSupply",
    "trailer supply control",
    { supply: from.port, delivery, sensed: delivery, needs: parkingIn ? [parkingIn] : [] },
    {
      popsOutPa: given.supplyControl.popsOut.si,
      holdsInPa: given.supplyControl.holdsIn.si,
      supply: valve(given.supplyControl.conductance),
      exhaust: valve(given.supplyControl.conductance),
    },
  );
  const port = plant.line("supplyCoupling", BODY_M3 + end, held, from.drains);
  engine.addLine(plant.net, "trailerSupplyLine", { from: delivery, to: port }, size);
  noteLine(plant, "trailerSupplyLine", size, held);
  plant.sheet.part({
    id: "trailerSupplyControl",
    kind: "trailerSupplyControl",
    label: "Trailer supply control",
    circuit: "trailerSupply",
    ports: { 1: from.node, 2: "trailerSupplyDelivery", 3: undefined },
    channels: { position: "control.trailerSupply", flow: "flow.trailerSupply", exhaust: "flow.trailerSupply.exhaust" },
    facts: { popsOut: given.supplyControl.popsOut },
  });
  plant.sheet.join(from, { part: "trailerSupplyControl", port: "1" }, { circuit: "trailerSupply" });
  return {
    port,
    node: "supplyCoupling",
    part: "trailerSupplyControl",
    number: "2",
    circuit: "trailerSupply",
    flow: "flow.trailerSupplyLine",
    rest: held,
    drains: from.drains,
  };
}

function addHandValve(plant: Plant, given: CompleteTrailerConnection, from: Tap): Tap {
  const { fullPressure, hysteresis, conductance } = given.handValve;
  const delivery = plant.line("handValveDelivery", 2 * BODY_M3, EMPTY, from.drains);
  engine.addHandValve(
    plant.net,
    { supply: from.port, delivery },
    {
      maximumPa: fullPressure.si,
      hysteresisPa: hysteresis.si,
      seatPa: SEAT_PA,
      supply: valve(conductance),
      exhaust: valve(conductance),
    },
  );
  plant.sheet.part({
    id: "handValve",
    kind: "handValve",
    label: "Trailer hand valve",
    circuit: "trailerService",
    ports: { 1: from.node, 2: "handValveDelivery", 3: undefined },
    channels: { flow: "flow.handValve" },
    facts: { fullPressure },
  });
  plant.sheet.join(from, { part: "handValve", port: "1" }, { circuit: "trailerService" });
  return {
    port: delivery,
    node: "handValveDelivery",
    part: "handValve",
    number: "2",
    circuit: "trailerService",
    rest: EMPTY,
    drains: from.drains,
  };
}

function addServiceLine(plant: Plant, given: CompleteTrailerConnection, asked: Tap, supply: Tap): Tap {
  const { closes, opens, conductance } = given.protection;
  const failed = plant.faults.signal("protectionValveStuckOpen", "tractorProtection");
  const size = pipe(given.lines.serviceLength, given.lines.serviceBore);
  const end = engine.endVolumeM3(size) / 2;
  const behind = plant.line("tractorProtection.outlet", BODY_M3 + end, EMPTY, asked.drains);
  engine.addTractorProtectionValve(
    plant.net,
    "tractorProtection",
    { service: asked.port, coupling: behind, supply: supply.port, ...(failed && { failed }) },
    { closesPa: closes.si, opensPa: opens.si, size: valve(conductance), quickRelease: valve(conductance) },
  );
  const port = plant.line("serviceCoupling", BODY_M3 + end, EMPTY, asked.drains);
  engine.addLine(plant.net, "trailerServiceLine", { from: behind, to: port }, size);
  plant.sheet.part({
    id: "tractorProtection",
    kind: "tractorProtection",
    label: "Tractor protection valve",
    circuit: "trailerService",
    ports: { 1: asked.node, 2: "tractorProtection.outlet", 4: supply.node },
    channels: { position: "opening.tractorProtection", flow: "flow.tractorProtection" },
    facts: { closes },
  });
  plant.sheet.join(asked, { part: "tractorProtection", port: "1" }, { flow: "flow.tractorProtection" });
  plant.sheet.join(supply, { part: "tractorProtection", port: "4" }, { role: "signal" });
  const flow = "flow.trailerServiceLine";
  return { ...asked, port, node: "serviceCoupling", part: "tractorProtection", number: "2", flow };
}
