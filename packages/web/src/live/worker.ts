/** The worker: runs the engine behind the contract. */
import { fleet } from "@brakeyard/vehicle";
import type { FromWorker, Line, ToWorker, VehicleSource } from "./contract.ts";
import { LiveRun } from "./liveRun.ts";
import { fleetList, type Opened, openVehicle } from "./openVehicle.ts";
import { runFileOf } from "./runFile.ts";

/** Computing time that one frame may take, ms: the rest of the 16 ms is the page's. */
const BUDGET_MS = 9;

const line = self as unknown as Line<FromWorker, ToWorker>;
let opened: Opened | null = null;
let run: LiveRun | null = null;
let pace = 1;

function begin(vehicle: Opened): void {
  opened = vehicle;
  run = new LiveRun(vehicle.assembly.model, vehicle.start, vehicle.info.traced, () => performance.now());
  run.setPace(pace);
  line.postMessage({ type: "opened", vehicle: vehicle.info });
}

function open(source: VehicleSource): void {
  const result = openVehicle(source);
  if (result.ok) begin(result);
  else
    line.postMessage({
      type: "refused",
      name: source.from === "file" ? source.name : source.id,
      problems: result.problems,
    });
}

function frame(elapsedMs: number): void {
  if (!run) return;
  const made = run.frame(elapsedMs, BUDGET_MS);
  line.postMessage({ type: "frame", ...made }, [made.values.buffer, made.rows.buffer]);
}

function take(message: ToWorker): void {
  switch (message.type) {
    case "open":
      open(message.source);
      break;
    case "reset":
      if (opened) begin(opened);
      break;
    case "control":
      run?.set(message.control, message.value);
      break;
    case "pace":
      pace = message.pace;
      run?.setPace(pace);
      break;
    case "tick":
      run?.step();
      break;
    case "frame":
      frame(message.elapsedMs);
      break;
    case "saveRun":
      if (opened && run) line.postMessage({ type: "runSaved", ...runFileOf(opened, run) });
      break;
  }
}

line.onmessage = (event) => take(event.data);
line.postMessage({ type: "fleet", fleet: fleetList() });
open({ from: "fleet", id: fleet[0]!.id });
