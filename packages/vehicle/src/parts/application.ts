import { part, typical, typicalChoice } from "./part.ts";

const FOOT = "from memory";
/** What the default conductances of the way to the chambers rest on. */
export const DEFAULT_PATH =
  "fitted once so that a two-axle bus meets 60 psi in about 0.27 s and 95 to 5 psi in under 0.55 s (49 CFR 571.121 S5.3.3, S5.3.4)";

/** Foot valve, two sections. */
export const footValve = part("footValve", {
  crack: typical("first pressure it passes", "pressure", "psi", [0, 30], [4, 3, 6], FOOT),
  hysteresis: typical("difference between applying and releasing", "pressure", "psi", [0, 20], [3, 2, 6], FOOT),
  secondaryLag: typical("secondary below primary", "pressure", "psi", [0, 20], [2, 1, 3], FOOT),
  freeTravel: typical("travel before it first passes air", "ratio", "1", [0, 0.6], [0.1, 0.05, 0.2]),
  fullTravel: typical(
    "travel up to which it graduates; beyond it passes all the tank has",
    "ratio",
    "1",
    [0.3, 0.97],
    [0.92, 0.85, 0.97],
  ),
  mechanicalLag: typical(
    "further travel before the secondary is pushed without primary air",
    "ratio",
    "1",
    [0.005, 0.3],
    [0.05, 0.02, 0.1],
  ),
  graduatedTo: typical("pressure graduated up to", "pressure", "psi", [40, 200], [105, 90, 130]),
  conductance: typical(
    "conductance of each section, either way",
    "conductance",
    "dm3/(s bar)",
    [0.5, 40],
    [6, 4, 9],
    DEFAULT_PATH,
  ),
});

/** Service relay valve. */
export const relayValve = part("relayValve", {
  crack: typical("control pressure at which it opens", "pressure", "psi", [0, 20], [4, 3, 5], "from memory"),
  hysteresis: typical(
    "difference between applying and releasing",
    "pressure",
    "psi",
    [0.2, 15],
    [2, 1, 3],
    "from memory",
  ),
  gain: typical("delivery gained per control pressure", "ratio", "1", [0.8, 1.2], [1.03, 1, 1.06]),
  apply: typical("conductance while applying", "conductance", "dm3/(s bar)", [0.2, 300], [4.2, 3, 8], DEFAULT_PATH),
  exhaust: typical("conductance while releasing", "conductance", "dm3/(s bar)", [0.2, 600], [14, 8, 20], DEFAULT_PATH),
});

/** Quick-release valve. */
export const quickReleaseValve = part("quickReleaseValve", {
  crack: typical(
    "difference at which it passes air on",
    "pressure",
    "psi",
    [0, 10],
    [1, 0.2, 3],
    "1 to 3 psi, from memory",
  ),
  apply: typical("conductance to each chamber", "conductance", "dm3/(s bar)", [0.2, 40], [1.8, 1.2, 4], DEFAULT_PATH),
  exhaust: typical(
    "conductance to the open for each chamber",
    "conductance",
    "dm3/(s bar)",
    [0.2, 40],
    [3, 2, 6],
    DEFAULT_PATH,
  ),
});

/** How pressure reaches the chambers of an axle. */
export const applicationPath = part("applicationPath", {
  via: typicalChoice("valve at the axle", ["relay", "quickRelease", "direct"]),
  antilock: typicalChoice("antilock modulators", ["none", "perAxle", "perSide"]),
  modulatorConductance: typical(
    "conductance of an antilock modulator",
    "conductance",
    "dm3/(s bar)",
    [0.5, 60],
    [12, 8, 20],
  ),
  controlLength: typical("pipe from the foot valve (control line of a relay)", "length", "m", [0.1, 40], [2.5, 1, 6]),
  controlBore: typical("its bore", "length", "mm", [3, 20], [8, 6, 10]),
  hoseLength: typical("pipe and hose from the valve to a chamber", "length", "m", [0.1, 20], [0.9, 0.5, 2.5]),
  hoseBore: typical("its bore", "length", "mm", [4, 25], [9.5, 8, 13]),
});

/** Load-sensing valve, when the axle has one. */
export const loadSensing = part("loadSensing", {
  ratio: typical("delivery over control at the present load", "ratio", "1", [0.1, 1], [1, 0.3, 1]),
  knee: typical("control pressure up to which it passes one to one", "pressure", "psi", [0, 60], [5, 0, 10]),
});

/** Double check valve: passes the higher of two pressures. */
export const doubleCheck = part("doubleCheck", {
  travel: typical("difference over which it changes over", "pressure", "psi", [0.1, 10], [0.5, 0.2, 2]),
  conductance: typical("conductance", "conductance", "dm3/(s bar)", [0.2, 40], [6, 3, 10]),
});
