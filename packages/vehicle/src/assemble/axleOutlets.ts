import * as engine from "@brakeyard/engine";
import type { CompleteApplication } from "../complete/complete.ts";
import type { Plant, Tap } from "./plant.ts";
import type { Circuit } from "./schematic.ts";
import { BODY_M3, inSeries, pipe, pipeFlow, valve } from "./sizes.ts";
import { EMPTY } from "./start.ts";
import type { BrakedAxle, Chamber, Unit } from "./unit.ts";

/** What the builders of one axle's valve share. */
export interface Place {
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

/** A stretch of pipe named after the axle. */
export function nodeOf(
  place: Place,
  suffix: string,
  volumeM3: number,
  drains = place.drains,
): { port: engine.Port; node: string } {
  const node = `${place.name}.${suffix}`;
  return { port: place.plant.line(node, volumeM3, EMPTY, drains), node };
}

/** The near halves of the hoses that start at a valve. */
export function hoseHalvesM3(place: Place): number {
  const halves = place.chambers.map(({ brakes }) => {
    const { hoseLength, hoseBore } = brakes.application.path;
    return engine.endVolumeM3(pipe(hoseLength, hoseBore)) / 2;
  });
  return halves.reduce((sum, one) => sum + one, 0);
}

/** One modulator for the whole axle, when it has that. */
export function modulateAxle(place: Place, from: Tap): Tap {
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
export function distribute(place: Place, from: Tap): void {
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

/** Modulator and hose to one chamber. */
export function addModulator(
  place: Place,
  name: string,
  inlet: engine.Port,
  outlet: engine.Port,
  hose: engine.FlowSize,
): void {
  const size = inSeries(valve(place.application.path.modulatorConductance), hose);
  engine.addAntilockModulator(place.plant.net, name, { inlet, outlet }, { through: size, exhaust: size });
}

/** The modulator in the picture; with a chamber, also the pipe to it. */
export function drawModulator(place: Place, name: string, inlet: string, outlet: string, chamber?: Chamber): void {
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

/** The pipe from the foot valve (or the valve before) to a port of the axle's valve. */
export function joinLine(place: Place, from: Tap, part: string, port: string): void {
  const role = port === "4" ? "signal" : "pipe";
  const piped = from.part === `${place.name}.loadSensing` ? `flow.${from.part}` : `flow.${place.name}.controlLine`;
  place.plant.sheet.join(from, { part, port }, { role, flow: piped });
}
