import { standardPressurePa, toSi } from "@brakeyard/units";
import type { Surroundings } from "../assemble/options.ts";
import { USUAL_SURROUNDINGS } from "../assemble/plant.ts";
import { type Problem, problem } from "../text/problem.ts";
import type { RunFile } from "./runSchema.ts";

/** Air round the vehicle: 20 C at sea level unless the run says otherwise. */
export function surroundingsOf(file: RunFile): Surroundings | Problem {
  const { temperature, altitude, pressure } = file.surroundings ?? {};
  if (altitude && pressure) {
    return problem(["surroundings", "pressure"], "altitude and pressure are both given", "keep one of the two");
  }
  return {
    temperatureK: temperature
      ? toSi("temperature", temperature.value, temperature.unit)
      : USUAL_SURROUNDINGS.temperatureK,
    pressurePa: pressure
      ? toSi("pressure", pressure.value, pressure.unit)
      : altitude
        ? standardPressurePa(toSi("length", altitude.value, altitude.unit))
        : USUAL_SURROUNDINGS.pressurePa,
  };
}

/** Free strokes set for this run, m. */
export function freeStrokes(file: RunFile): Record<string, number> {
  const given = Object.entries(file.start?.freeStrokes ?? {});
  return Object.fromEntries(given.map(([chamber, stroke]) => [chamber, toSi("length", stroke.value, stroke.unit)]));
}
