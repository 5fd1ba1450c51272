import { needed, open, part, typical } from "./part.ts";

/** Ratings of the whole vehicle. */
export const ratings = part("ratings", {
  gross: needed("gross vehicle rating", "mass", "kg", [500, 80000]),
  grossCombination: open("gross combination rating", "mass", "kg", [500, 250000]),
});

/** Masses as weighed or stated. */
export const masses = part("masses", {
  unladen: open("unladen mass", "mass", "kg", [500, 80000]),
  laden: open("laden mass", "mass", "kg", [500, 80000]),
});

/** One axle. */
export const axle = part("axle", {
  rating: needed("axle rating", "mass", "kg", [100, 30000]),
  position: open("distance behind the first axle", "length", "m", [0, 25]),
  unladen: open("unladen mass on it", "mass", "kg", [50, 30000]),
  laden: open("laden mass on it", "mass", "kg", [50, 30000]),
});

/** Engine speeds. An electric vehicle has none. */
export const engineSpeeds = part("engineSpeeds", {
  crank: typical("cranking speed", "turning", "rpm", [50, 600], [180, 120, 250]),
  idle: typical("idle speed", "turning", "rpm", [300, 1500], [700, 550, 850]),
  fastIdle: typical("fast idle speed", "turning", "rpm", [500, 2500], [1100, 900, 1400]),
  governed: typical("governed speed", "turning", "rpm", [800, 5000], [2100, 1700, 2600]),
  response: typical("time constant of the engine speed", "time", "s", [0.05, 5], [0.4, 0.2, 1]),
  maximumRecommended: typical("highest speed the maker recommends", "turning", "rpm", [800, 5000], [2100, 1700, 2600]),
});

/** Driveline, for motion; standing still nothing of it is used. */
export const driveline = part("driveline", {
  finalDrive: open("axle ratio", "ratio", "1", [1, 20]),
  tyreRadius: typical("rolling radius", "length", "mm", [200, 800], [500, 400, 540]),
});
