export { minimalBus } from "./minimalBus.ts";
export { type Finished, finish, runToEnd } from "./runToEnd.ts";
export { type Recipe, recipe, vehicleFile, vehicleText } from "./vehicleArbitrary.ts";
