import * as engine from "@brakeyard/engine";
import type { CompleteFootValve } from "../complete/complete.ts";
import { addAxleValve } from "./axleValve.ts";
import type { Plant, Tap } from "./plant.ts";
import { BODY_M3, pipe, SEAT_PA, valve } from "./sizes.ts";
import { EMPTY } from "./start.ts";
import { leadAxles, type Unit } from "./unit.ts";

/** Deliveries of the two foot valve sections. */
export interface Deliveries {
  readonly primary: Tap;
  readonly secondary: Tap;
}

/** Foot valve and the brakes behind it. Returns the deliveries and the service pressure at each lead axle. */
export function addService(
  unit: Unit,
  foot: CompleteFootValve,
): { deliveries: Deliveries; axles: ReadonlyMap<string, Tap> } {
  const { plant, air, vehicle } = unit;
  const supplies = {
    primary: plant.meet(foot.primaryFrom, "primary", air.doubleCheckValves),
    secondary: plant.meet(foot.secondaryFrom, "secondary", air.doubleCheckValves),
  };
  const deliveries = {
    primary: delivery(unit, "primary", supplies.primary),
    secondary: delivery(unit, "secondary", supplies.secondary),
  };
  addFootValve(plant, foot, supplies, deliveries);
  const axles = new Map<string, Tap>();
  for (const lead of leadAxles(vehicle)) {
    const circuit = lead.brakes.application.circuit === "secondary" ? "secondary" : "primary";
    const supply = plant.meet(lead.brakes.application.fedFrom, circuit, air.doubleCheckValves);
    axles.set(lead.id, addAxleValve(unit, lead, deliveries[circuit], supply));
  }
  return { deliveries, axles };
}

/** Delivery of a section: the valve's own cavity and the near halves of the pipes that start there. */
function delivery(unit: Unit, circuit: "primary" | "secondary", supply: Tap): Tap {
  const pipes = leadAxles(unit.vehicle)
    .map((axle) => axle.brakes.application)
    .filter((application) => application.circuit === circuit)
    .map(({ path }) => engine.endVolumeM3(pipe(path.controlLength, path.controlBore)) / 2);
  const volumeM3 = pipes.reduce((sum, one) => sum + one, BODY_M3);
  const node = `${circuit}Delivery`;
  const port = unit.plant.line(node, volumeM3, EMPTY, supply.drains);
  const number = circuit === "primary" ? "21" : "22";
  return { port, node, part: "footValve", number, circuit, rest: EMPTY, drains: supply.drains };
}

function addFootValve(plant: Plant, foot: CompleteFootValve, supplies: Deliveries, deliveries: Deliveries): void {
  const { values } = foot;
  const blocked = plant.faults.find("footValveExhaustBlocked");
  const exhaustHealth =
    blocked &&
    plant.net.product({
      name: "footValve.exhaustHealth",
      minimum: 0,
      terms: [
        { weight: 1, factors: [] },
        { weight: -blocked.spec.share, factors: [blocked.signal] },
      ],
    });
  engine.addFootValve(
    plant.net,
    {
      primarySupply: supplies.primary.port,
      primaryDelivery: deliveries.primary.port,
      secondarySupply: supplies.secondary.port,
      secondaryDelivery: deliveries.secondary.port,
      ...(exhaustHealth && { exhaustHealth }),
    },
    footParams(values),
  );
  drawFootValve(plant, foot, supplies, deliveries);
}

function footParams(values: CompleteFootValve["values"]): engine.FootValveParams {
  return {
    freeTravel: values.freeTravel.si,
    crackPa: values.crack.si,
    graduatedPa: values.graduatedTo.si,
    graduatedTravel: values.fullTravel.si,
    hysteresisPa: values.hysteresis.si,
    secondaryLagPa: values.secondaryLag.si,
    mechanicalLag: values.mechanicalLag.si,
    seatPa: FOOT_SEAT_PA,
    supply: valve(values.conductance),
    exhaust: valve(values.conductance),
  };
}

/** A foot valve's seat opens more gently than a relay's. Between 0.3 and 3 psi the width changes little but the cost. */
const FOOT_SEAT_PA = 2 * SEAT_PA;

function drawFootValve(plant: Plant, foot: CompleteFootValve, supplies: Deliveries, deliveries: Deliveries): void {
  plant.sheet.part({
    id: "footValve",
    kind: "footValve",
    label: "Foot valve",
    circuit: "primary",
    ports: {
      11: supplies.primary.node,
      12: supplies.secondary.node,
      21: deliveries.primary.node,
      22: deliveries.secondary.node,
      3: undefined,
    },
    channels: {
      primary: "flow.footValve.primary",
      secondary: "flow.footValve.secondary",
      primaryExhaust: "flow.footValve.primary.exhaust",
      secondaryExhaust: "flow.footValve.secondary.exhaust",
    },
    facts: { crack: foot.values.crack, secondaryLag: foot.values.secondaryLag },
  });
  plant.sheet.join(
    supplies.primary,
    { part: "footValve", port: "11" },
    { flow: "flow.footValve.primary.supply", circuit: "primary" },
  );
  plant.sheet.join(
    supplies.secondary,
    { part: "footValve", port: "12" },
    { flow: "flow.footValve.secondary.supply", circuit: "secondary" },
  );
}
