import type { LiveRun } from "./liveRun.ts";
import type { Opened } from "./openVehicle.ts";

export function runFileOf(opened: Opened, run: LiveRun): { name: string; text: string } {
  return { name: "run.json", text: JSON.stringify({ vehicle: opened.info.title, tick: run.tick, log: run.log }) };
}
