export { minimalBus } from "./minimalBus.ts";
export { type Recipe, recipe, vehicleFile, vehicleText } from "./vehicleArbitrary.ts";
