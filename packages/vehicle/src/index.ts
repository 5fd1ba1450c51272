export { loadVehicle } from "./loadVehicle.ts";
