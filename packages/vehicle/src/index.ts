export type * from "./complete/complete.ts";
export { completeVehicle } from "./complete/completeVehicle.ts";
export { writeOut } from "./complete/writeOut.ts";
export { loadVehicle } from "./loadVehicle.ts";
export { VEHICLE_FORMAT, VEHICLE_VERSION, type VehicleFile } from "./schema/vehicle.ts";
export { FileError, type Loaded, type Problem, problemText } from "./text/problem.ts";
export { LONGEST_TEXT } from "./text/readText.ts";
export type { Choice, Generic, Quantity } from "./values/resolved.ts";
export type { Origin, StoredChoice, StoredQuantity } from "./values/stored.ts";
