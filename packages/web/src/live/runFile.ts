import { fleet, RUN_FORMAT, RUN_VERSION } from "@brakeyard/vehicle";
import type { LiveRun } from "./liveRun.ts";
import { chosenSpeed, type Opened } from "./openVehicle.ts";

/** A live run as a run file: the vehicle, how it was found, and every control with its tick. Played headless it gives the same trace. */
export function runFileOf(opened: Opened, run: LiveRun): { name: string; text: string } {
  const file = {
    format: RUN_FORMAT,
    version: RUN_VERSION,
    title: opened.info.title,
    ...vehiclesOf(opened),
    start: startOf(opened),
    controls: run.log.map(({ tick, control, value }) => ({ atTick: tick, control, value })),
    durationTicks: Math.max(1, run.tick),
  };
  return { name: "brakeyard-run.json", text: `${JSON.stringify(file, null, 1)}\n` };
}

/** A vehicle of the fleet by its name, any other written into the run. */
function vehiclesOf(opened: Opened): Record<string, unknown> {
  const refs = opened.texts.map((text) => {
    const known = fleet.find((v) => v.vehicle() === text);
    const raw = JSON.parse(text.replace(/^\uFEFF/, "")) as { kind?: string };
    return { trailer: raw.kind === "trailer", ref: known ? { fleet: known.id } : { inline: raw } };
  });
  const trailer = refs.find((r) => r.trailer)?.ref;
  const power = refs.find((r) => !r.trailer)?.ref;
  if (trailer && power) return { tractor: power, trailer };
  return trailer ? { trailer, rig: {} } : { vehicle: power };
}

function startOf(opened: Opened): Record<string, unknown> {
  const { request, info } = opened;
  const has = (control: string) => info.controls.some((c) => c.id === control);
  return {
    otherTanks: { value: request.otherTanksPa, unit: "Pa" },
    ...(chosenSpeed(request) > 0 && { engine: { value: chosenSpeed(request), unit: "rpm" } }),
    ...(has("key") && { key: "on" }),
    ...(has("parking") && { parking: request.parking }),
    ...(has("trailerSupply") && { trailerSupply: request.trailerSupply }),
    ...(request.loaded && { compressor: "loaded" }),
    ...(has("chocks") && { chocks: "placed" }),
  };
}
