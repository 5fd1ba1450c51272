import { part, typical, typicalChoice } from "./part.ts";

const POPS = "licence manuals (read): 20 to 45 psi";
const INVERSION = "US Army TM 5-3810-306-20 p. 45 (read): hold-off limited to about 95 psi, trips below about 55 psi";

/** Parking control on the dash. */
export const parkingControl = part("parkingControl", {
  popsOut: typical("pops out by itself when its supply falls to", "pressure", "psi", [0, 100], [30, 20, 45], POPS),
  holdsIn: typical("stays in only when its supply is above", "pressure", "psi", [0, 120], [32, 22, 50]),
  conductance: typical("conductance", "conductance", "dm3/(s bar)", [0.2, 40], [3, 2, 6]),
});

/** From the parking control to the spring chambers. */
export const springPath = part("springPath", {
  via: typicalChoice("valve at the axle", ["relay", "quickRelease", "direct"]),
  antiCompounding: typicalChoice("anti-compounding", ["yes", "no"]),
  controlLength: typical("pipe from the parking control", "length", "m", [0.1, 40], [8, 2, 12]),
  controlBore: typical("its bore", "length", "mm", [3, 20], [6.35, 5, 9]),
  hoseLength: typical("pipe and hose from the valve to a chamber", "length", "m", [0.1, 20], [1.2, 0.5, 3]),
  hoseBore: typical("its bore", "length", "mm", [4, 25], [9.5, 6, 13]),
  crack: typical("control pressure at which the relay opens", "pressure", "psi", [0, 20], [4, 3, 5], "from memory"),
  hysteresis: typical("relay hysteresis", "pressure", "psi", [0.2, 15], [2, 1, 3], "from memory"),
  gain: typical("delivery gained per control pressure", "ratio", "1", [0.8, 1.2], [1.03, 1, 1.06]),
  apply: typical("conductance while releasing the springs", "conductance", "dm3/(s bar)", [0.2, 40], [8, 4, 12]),
  exhaust: typical("conductance while setting the springs", "conductance", "dm3/(s bar)", [0.2, 60], [8, 4, 16]),
});

/** Spring brake modulating valve, where fitted. */
export const springBrakeModulatingValve = part("springBrakeModulatingValve", {
  holdOffLimit: typical(
    "highest pressure it passes to the spring chambers",
    "pressure",
    "psi",
    [60, 200],
    [95, 90, 105],
    INVERSION,
  ),
  trips: typical(
    "primary pressure below which the pedal works the springs",
    "pressure",
    "psi",
    [10, 120],
    [55, 45, 65],
    INVERSION,
  ),
  gain: typical(
    "fall of spring air per rise of pedal air",
    "ratio",
    "1",
    [0.3, 3],
    [1.15, 1, 1.3],
    "1 to 1.3, from memory",
  ),
  hysteresis: typical("difference between letting out and feeding back", "pressure", "psi", [0.2, 20], [3, 2, 6]),
  conductance: typical("conductance", "conductance", "dm3/(s bar)", [0.2, 40], [5, 3, 8]),
});
