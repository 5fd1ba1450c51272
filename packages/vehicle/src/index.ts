export { type Assembly, assemble, type Subject } from "./assemble/assemble.ts";
export type { FaultHandle } from "./assemble/faultBoard.ts";
export {
  type AssembleOptions,
  AssemblyError,
  type FaultKind,
  type FaultSpec,
  type LeakSize,
  type Rig,
  type Surroundings,
} from "./assemble/options.ts";
export { STANDARD_RIG } from "./assemble/rig.ts";
export type * from "./assemble/schematic.ts";
export type { StartRequest, TankStart } from "./assemble/start.ts";
export type * from "./complete/complete.ts";
export { completeVehicle } from "./complete/completeVehicle.ts";
export { writeOut } from "./complete/writeOut.ts";
export { type FleetVehicle, fleet } from "./fleet.ts";
export { loadVehicle } from "./loadVehicle.ts";
export type { RunChannel } from "./run/channels.ts";
export { loadRun, type PreparedRun } from "./run/loadRun.ts";
export { RUN_FORMAT, RUN_VERSION, type RunFile } from "./run/runSchema.ts";
export type { ResolveFile } from "./run/subject.ts";
export { VEHICLE_FORMAT, VEHICLE_VERSION, type VehicleFile } from "./schema/vehicle.ts";
export { summariseVehicle, type VehicleSummary } from "./summary.ts";
export { FileError, type Loaded, type Problem, problemText } from "./text/problem.ts";
export { LONGEST_TEXT } from "./text/readText.ts";
export type { Choice, Generic, Quantity } from "./values/resolved.ts";
export type { Origin, StoredChoice, StoredQuantity } from "./values/stored.ts";
