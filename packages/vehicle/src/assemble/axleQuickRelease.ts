import * as engine from "@brakeyard/engine";
import { addModulator, drawModulator, joinLine, modulateAxle, type Place } from "./axleOutlets.ts";
import type { Tap } from "./plant.ts";
import { BODY_M3, inSeries, pipeFlow, SEAT_PA, valve } from "./sizes.ts";
import { EMPTY } from "./start.ts";
import type { Chamber } from "./unit.ts";

/** Quick release valve with its chambers. Returns where the service pressure of the axle can be felt. */
export function addQuickRelease(place: Place, line: Tap): Tap {
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
