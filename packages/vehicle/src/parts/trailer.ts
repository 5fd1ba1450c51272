import { part, typical, typicalChoice } from "./part.ts";

const CLOSES = "49 CFR 393.43 (from memory): between 45 and 20 psi";

/** Tractor protection valve. */
export const tractorProtection = part("tractorProtection", {
  closes: typical("closes when the supply line falls to", "pressure", "psi", [5, 100], [30, 20, 45], CLOSES),
  opens: typical("opens when the supply line has risen to", "pressure", "psi", [6, 120], [40, 30, 60]),
  conductance: typical("conductance of the service way", "conductance", "dm3/(s bar)", [0.5, 60], [8, 5, 12]),
});

/** Trailer supply control on the dash, narrow enough that a parted line falls to its pop-out pressure although the tanks feed it. */
export const trailerSupplyControl = part("trailerSupplyControl", {
  popsOut: typical(
    "pops out by itself when the supply line falls to",
    "pressure",
    "psi",
    [5, 100],
    [40, 20, 45],
    CLOSES,
  ),
  holdsIn: typical("stays in only when the supply line is above", "pressure", "psi", [5, 120], [44, 22, 55]),
  conductance: typical("conductance", "conductance", "dm3/(s bar)", [0.2, 40], [1.6, 1, 3]),
});

/** Hand valve for the trailer's service brakes. */
export const handValve = part("handValve", {
  fitted: typicalChoice("whether there is one", ["yes", "no"]),
  hysteresis: typical("difference between applying and releasing", "pressure", "psi", [0.2, 20], [3, 2, 6]),
  fullPressure: typical("pressure at full travel", "pressure", "psi", [20, 200], [90, 70, 120]),
  conductance: typical("conductance", "conductance", "dm3/(s bar)", [0.2, 40], [3, 2, 6]),
});

/** Supply and service lines of one unit, up to its couplings. */
export const trailerLines = part("trailerLines", {
  supplyLength: typical("length of the supply line", "length", "m", [0.2, 40], [6, 3, 14]),
  supplyBore: typical("its bore", "length", "mm", [4, 25], [9.5, 8, 13]),
  serviceLength: typical("length of the service line", "length", "m", [0.2, 40], [6, 3, 14]),
  serviceBore: typical("its bore", "length", "mm", [4, 25], [9.5, 8, 13]),
  coupling: typical("conductance of a coupling with its seal", "conductance", "dm3/(s bar)", [0.5, 60], [10, 6, 15]),
  cocks: typicalChoice("cut-out cocks", ["no", "yes"]),
});

/** Valve that fills a trailer's tanks and spring chambers from the supply line and lets the springs down when the line is lost. */
export const trailerSpringValve = part("trailerSpringValve", {
  priority: typical("tanks fill only from this supply pressure on", "pressure", "psi", [0, 120], [60, 0, 80]),
  crack: typical("difference at which it passes air", "pressure", "psi", [0, 10], [1, 0.3, 3]),
  conductance: typical(
    "conductance to the springs and to the tanks",
    "conductance",
    "dm3/(s bar)",
    [0.2, 40],
    [5, 3, 8],
  ),
  exhaust: typical("conductance while letting the springs down", "conductance", "dm3/(s bar)", [0.2, 60], [8, 4, 16]),
});

/** Emergency valve of a trailer without spring brakes: puts the tank's air on the brakes when the supply line is lost. */
export const emergencyValve = part("emergencyValve", {
  applies: typical("applies when the supply line falls to", "pressure", "psi", [5, 100], [35, 20, 45], CLOSES),
  conductance: typical("conductance", "conductance", "dm3/(s bar)", [0.2, 40], [5, 3, 8]),
});
