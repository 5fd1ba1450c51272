import * as engine from "@brakeyard/engine";
import type { CompleteApplication } from "../complete/complete.ts";
import type { Plant, Tap } from "./plant.ts";
import type { Circuit } from "./schematic.ts";
import { BODY_M3, hole, inSeries, pipe, pipeFlow, SEAT_PA, valve } from "./sizes.ts";
import { EMPTY } from "./start.ts";
import { type BrakedAxle, type Chamber, chambersOf, groupOf, type Unit } from "./unit.ts";

/** What the builders of one axle's valve share. */
interface Place {
  readonly unit: Unit;
  readonly plant: Plant;
  readonly lead: BrakedAxle;
  readonly application: CompleteApplication;
  readonly chambers: readonly Chamber[];
  /** Name of the lead axle with the unit's prefix; parts and nodes are called after it. */
  readonly name: string;
  readonly circuit: Circuit;
  readonly drains: readonly string[];
}

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

function nodeOf(
  place: Place,
  suffix: string,
  volumeM3: number,
  drains = place.drains,
): { port: engine.Port; node: string } {
  const node = `${place.name}.${suffix}`;
  return { port: place.plant.line(node, volumeM3, EMPTY, drains), node };
}

/** The near halves of the hoses that start at a valve. */
function hoseHalvesM3(place: Place): number {
  const halves = place.chambers.map(({ brakes }) => {
    const { hoseLength, hoseBore } = brakes.application.path;
    return engine.endVolumeM3(pipe(hoseLength, hoseBore)) / 2;
  });
  return halves.reduce((sum, one) => sum + one, 0);
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

/** The pipe from the foot valve (or the valve before) to a port of the axle's valve. */
function joinLine(place: Place, from: Tap, part: string, port: string): void {
  const role = port === "4" ? "signal" : "pipe";
  const piped = from.part === `${place.name}.loadSensing` ? `flow.${from.part}` : `flow.${place.name}.controlLine`;
  place.plant.sheet.join(from, { part, port }, { role, flow: piped });
}

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

function addQuickRelease(place: Place, line: Tap): Tap {
  const { plant } = place;
  const id = `${place.name}.quickRelease`;
  const inlet = modulateAxle(place, line);
  const { crack, apply, exhaust } = place.application.quickRelease;
  const frozen = plant.faults.signal("quickReleaseFrozen", place.name);
  const hose = pipeFlow(place.application.path.hoseLength, place.application.path.hoseBore);
  const perSide = place.application.path.antilock.value === "perSide";
  const outlets = Object.fromEntries(
    place.chambers.map((chamber) => [sideOf(place, chamber), perSide ? branch(place, chamber) : chamber.service]),
  );
  engine.addQuickReleaseValve(
    plant.net,
    id,
    { line: inlet.port, outlets, ...(frozen && { exhaustHealth: engine.not(plant.net, `${id}.health`, frozen) }) },
    {
      crackPa: crack.si,
      seatPa: SEAT_PA,
      inlet: perSide ? valve(apply) : inSeries(valve(apply), hose),
      exhaust: perSide ? valve(exhaust) : inSeries(valve(exhaust), hose),
    },
  );
  for (const chamber of perSide ? place.chambers : []) {
    addModulator(place, chamber.name, outlets[sideOf(place, chamber)] as engine.Port, chamber.service, hose);
    drawModulator(place, chamber.name, `${chamber.name}.branch`, `${chamber.name}.service`, chamber);
  }
  drawQuickRelease(place, id, inlet, perSide);
  return inlet;
}

/** `left`, or `driveRear.left` for an axle that shares the valve. */
function sideOf(place: Place, chamber: Chamber): string {
  return chamber.axle.id === place.lead.id ? chamber.side : `${chamber.axle.id}.${chamber.side}`;
}

/** A stretch between a quick release valve and a modulator. */
function branch(place: Place, chamber: Chamber): engine.Port {
  return place.plant.line(`${chamber.name}.branch`, 2 * BODY_M3, EMPTY, place.drains);
}

function drawQuickRelease(place: Place, id: string, line: Tap, perSide: boolean): void {
  const outlets = place.chambers.map((chamber, i) => [`2${i + 1}`, chamber] as const);
  const nodes = outlets.map(([number, chamber]) => [
    number,
    perSide ? `${chamber.name}.branch` : `${chamber.name}.service`,
  ]);
  place.plant.sheet.part({
    id,
    kind: "quickRelease",
    label: "Quick release valve",
    circuit: place.circuit,
    axle: place.lead.id,
    ports: { 1: line.node, ...Object.fromEntries(nodes), 3: undefined },
    channels: { exhaust: `flow.${id}.exhaust` },
    facts: { crack: place.application.quickRelease.crack },
  });
  joinLine(place, line, id, "1");
  for (const [number, chamber] of outlets) {
    const from = {
      node: perSide ? `${chamber.name}.branch` : `${chamber.name}.service`,
      part: id,
      number,
      circuit: place.circuit,
    };
    const part = perSide ? `modulator.${chamber.name}` : chamber.name;
    place.plant.sheet.join(from, { part, port: "1" }, { flow: `flow.${id}.${sideOf(place, chamber)}` });
  }
}

/** One modulator for the whole axle, when it has that. */
function modulateAxle(place: Place, from: Tap): Tap {
  if (place.application.path.antilock.value !== "perAxle") return from;
  const { port, node } = nodeOf(place, "modulated", BODY_M3 + hoseHalvesM3(place), from.drains);
  const size = valve(place.application.path.modulatorConductance);
  engine.addAntilockModulator(
    place.plant.net,
    place.name,
    { inlet: from.port, outlet: port },
    { through: size, exhaust: size },
  );
  drawModulator(place, place.name, from.node, node);
  place.plant.sheet.join(
    from,
    { part: `modulator.${place.name}`, port: "1" },
    { flow: `flow.modulator.${place.name}` },
  );
  return { ...from, port, node, part: `modulator.${place.name}`, number: "2" };
}

/** From a valve's delivery to each chamber, through a modulator where there is one. */
function distribute(place: Place, from: Tap): void {
  const start = modulateAxle(place, from);
  for (const chamber of place.chambers) {
    const { hoseLength, hoseBore } = chamber.brakes.application.path;
    if (place.application.path.antilock.value === "perSide") {
      addModulator(place, chamber.name, start.port, chamber.service, pipeFlow(hoseLength, hoseBore));
      drawModulator(place, chamber.name, start.node, `${chamber.name}.service`, chamber);
      place.plant.sheet.join(
        start,
        { part: `modulator.${chamber.name}`, port: "1" },
        { flow: `flow.modulator.${chamber.name}` },
      );
    } else {
      engine.addLine(
        place.plant.net,
        `${chamber.name}.hose`,
        { from: start.port, to: chamber.service },
        pipe(hoseLength, hoseBore),
      );
      place.plant.sheet.join(start, { part: chamber.name, port: "1" }, { flow: `flow.${chamber.name}.hose` });
    }
  }
}

function addModulator(
  place: Place,
  name: string,
  inlet: engine.Port,
  outlet: engine.Port,
  hose: engine.FlowSize,
): void {
  const size = inSeries(valve(place.application.path.modulatorConductance), hose);
  engine.addAntilockModulator(place.plant.net, name, { inlet, outlet }, { through: size, exhaust: size });
}

function drawModulator(place: Place, name: string, inlet: string, outlet: string, chamber?: Chamber): void {
  const id = `modulator.${name}`;
  place.plant.sheet.part({
    id,
    kind: "modulator",
    label: "Antilock modulator",
    circuit: place.circuit,
    axle: chamber?.axle.id ?? place.lead.id,
    ...(chamber && { side: chamber.side }),
    ports: { 1: inlet, 2: outlet, 3: undefined },
    channels: { flow: `flow.${id}` },
    facts: {},
  });
  if (chamber)
    place.plant.sheet.join(
      { node: outlet, part: id, number: "2", circuit: place.circuit },
      { part: chamber.name, port: "1" },
      { flow: `flow.${id}` },
    );
}
