import * as engine from "@brakeyard/engine";
import type { CompleteApplication } from "../complete/complete.ts";
import { distribute, hoseHalvesM3, joinLine, nodeOf, type Place } from "./axleOutlets.ts";
import { addQuickRelease } from "./axleQuickRelease.ts";
import type { Tap } from "./plant.ts";
import { BODY_M3, hole, pipe, SEAT_PA, valve } from "./sizes.ts";
import { EMPTY } from "./start.ts";
import { type BrakedAxle, chambersOf, groupOf, type Unit } from "./unit.ts";

/**
 * From a service line to the chambers of an axle and those that share its valve: pipe, load-sensing valve, relay or quick release
 * valve, antilock modulators, hoses. Returns where the service pressure of the axle can be felt.
 */
export function addAxleValve(unit: Unit, lead: BrakedAxle, line: Tap, supply: Tap): Tap {
  const application = lead.brakes.application;
  const place: Place = {
    unit,
    plant: unit.plant,
    lead,
    application,
    chambers: chambersOf(unit, groupOf(unit.vehicle, lead)),
    name: unit.prefix + lead.id,
    circuit: line.circuit,
    drains: line.drains,
  };
  const arrived = addLoadSensing(place, addControlLine(place, line));
  if (application.path.via.value === "relay") return addRelay(place, arrived, supply);
  if (application.path.via.value === "quickRelease") return addQuickRelease(place, arrived);
  distribute(place, arrived);
  return arrived;
}

function addControlLine(place: Place, line: Tap): Tap {
  const { controlLength, controlBore } = place.application.path;
  const size = pipe(controlLength, controlBore);
  const own = place.application.path.via.value === "direct" ? hoseHalvesM3(place) : 0;
  const { port, node } = nodeOf(place, "line", engine.endVolumeM3(size) / 2 + BODY_M3 + own);
  engine.addLine(place.plant.net, `${place.name}.controlLine`, { from: line.port, to: port }, size);
  return { ...line, port, node };
}

function addLoadSensing(place: Place, line: Tap): Tap {
  const given = place.application.loadSensing;
  if (!given) return line;
  const { port, node } = nodeOf(place, "sensed", BODY_M3);
  const id = `${place.name}.loadSensing`;
  const size = { conductance: LOAD_SENSING, criticalRatio: 0.3 };
  engine.addLoadSensingValve(
    place.plant.net,
    id,
    { inlet: line.port, outlet: port },
    {
      ratio: given.ratio.si,
      kneePa: given.knee.si,
      hysteresisPa: 2 * SEAT_PA,
      seatPa: SEAT_PA,
      inlet: size,
      exhaust: size,
    },
  );
  place.plant.sheet.part({
    id,
    kind: "loadSensing",
    label: "Load-sensing valve",
    circuit: place.circuit,
    axle: place.lead.id,
    ports: { 1: line.node, 2: node, 3: undefined },
    channels: { flow: `flow.${id}` },
    facts: { ratio: given.ratio },
  });
  joinLine(place, line, id, "1");
  return { ...line, port, node, part: id, number: "2" };
}

/** Conductance of a load-sensing valve, m3/(s Pa): that of a foot valve section. */
const LOAD_SENSING = 6e-8;

function addRelay(place: Place, control: Tap, supply: Tap): Tap {
  const { plant, application } = place;
  const id = `${place.name}.relay`;
  const { port, node } = nodeOf(place, "delivery", BODY_M3 + hoseHalvesM3(place), supply.drains);
  const leaks = plant.faults.find("relayExhaustLeaks", place.name);
  const high = plant.faults.find("relayCracksHigh", place.name);
  engine.addRelayValve(
    plant.net,
    id,
    {
      supply: supply.port,
      control: control.port,
      delivery: port,
      ...(high && { stiff: { fault: high.signal, extraPa: high.spec.byPa } }),
      ...(leaks && { exhaustLeak: { fault: leaks.signal, size: hole(leaks.spec.holeM) } }),
    },
    relayParams(application.relay),
  );
  drawRelay(place, id, supply, control, node);
  const delivered: Tap = {
    port,
    node,
    part: id,
    number: "2",
    circuit: place.circuit,
    rest: EMPTY,
    drains: supply.drains,
  };
  distribute(place, delivered);
  return delivered;
}

/** A relay valve as the engine wants it. */
export function relayParams(
  relay: Pick<CompleteApplication["relay"], "crack" | "hysteresis" | "gain" | "apply" | "exhaust">,
): engine.RelayValveParams {
  return {
    crackPa: relay.crack.si,
    hysteresisPa: relay.hysteresis.si,
    gain: relay.gain.si,
    seatPa: SEAT_PA,
    inlet: valve(relay.apply),
    exhaust: valve(relay.exhaust),
  };
}

function drawRelay(place: Place, id: string, supply: Tap, control: Tap, node: string): void {
  place.plant.sheet.part({
    id,
    kind: place.unit.prefix === "" ? "relayValve" : "trailerRelay",
    label: place.unit.prefix === "" ? "Relay valve" : "Trailer relay valve",
    circuit: place.circuit,
    axle: place.lead.id,
    ports: { 1: supply.node, 2: node, 3: undefined, 4: control.node },
    channels: {
      position: `opening.${id}`,
      exhausting: `exhausting.${id}`,
      flow: `flow.${id}`,
      exhaust: `flow.${id}.exhaust`,
    },
    facts: { crack: place.application.relay.crack },
  });
  place.plant.sheet.join(supply, { part: id, port: "1" }, { flow: `flow.${id}.supply`, circuit: place.circuit });
  joinLine(place, control, id, "4");
}
