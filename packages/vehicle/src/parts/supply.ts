import { needed, part, typical, typicalChoice } from "./part.ts";

const SIZES = "generic sizes 230 to 720 cm3, from memory";
const TWIN =
  "fitted to one measured point: 720 cm3 twin, 30.3 ft3/min of free air at 1800 rpm and 120 psi (maker's sheet, read)";
const GOVERNOR =
  "Saskatchewan pre-trip page, rev. 2018-19 (read): cut-out 120 to 145 psi, cut-in 20 to 25 psi lower and not below 100";

/** Compressor driven by the engine. */
export const engineCompressor = part("compressor", {
  displacement: typical("piston displacement per turn", "volume", "cm3", [50, 2000], [500, 230, 720], SIZES),
  speedRatio: typical("turns per engine turn", "ratio", "1", [0.3, 3], [1, 1, 1.3], "1.0 to 1.3, from memory"),
  clearance: typical("clearance volume over displacement", "ratio", "1", [0, 0.3], [0.05, 0.04, 0.07], TWIN),
  condition: typical("delivery against a new one", "ratio", "1", [0.05, 1.2], [1, 0.85, 1]),
  intakeWarming: typical("intake air above ambient", "warming", "K", [0, 80], [0, 0, 20]),
  intakeLoss: typical("intake pressure below ambient", "pressure", "kPa", [0, 30], [0, 0, 3]),
});

/** Compressor driven by its own electric motor, switched by a pressure switch (the governor's settings). */
export const electricCompressor = part("electricCompressor", {
  displacement: typical("displacement per turn", "volume", "cm3", [50, 2000], [250, 120, 500]),
  motorSpeed: typical("speed of the pump while it runs", "turning", "rpm", [300, 6000], [1500, 1200, 3000]),
  clearance: typical("clearance volume over displacement", "ratio", "1", [0, 0.3], [0.05, 0.03, 0.07], TWIN),
  condition: typical("delivery against a new one", "ratio", "1", [0.05, 1.2], [1, 0.85, 1]),
  intakeWarming: typical("intake air above ambient", "warming", "K", [0, 80], [0, 0, 20]),
  intakeLoss: typical("intake pressure below ambient", "pressure", "kPa", [0, 30], [0, 0, 3]),
  longestRun: typical("running time from cold until it stops itself", "time", "min", [1, 240], [20, 10, 60]),
  coolingTime: typical("rest after that until it may start again", "time", "min", [1, 240], [10, 5, 30]),
});

/** Governor of an engine-driven compressor, or pressure switch of an electric one. */
export const governor = part("governor", {
  cutOut: typical("cut-out", "pressure", "psi", [60, 250], [125, 120, 145], GOVERNOR),
  cutIn: typical("cut-in", "pressure", "psi", [40, 240], [105, 100, 120], GOVERNOR),
});

/** Pipe from the compressor to the dryer or the supply tank, where the air loses most of its heat. */
export const dischargeLine = part("dischargeLine", {
  length: typical("length", "length", "m", [0.3, 15], [2.5, 1.5, 6]),
  bore: typical("bore", "length", "mm", [6, 40], [16, 12, 20]),
  cooling: typical("heat lost per degree", "heatConductance", "W/K", [0, 200], [20, 8, 40]),
});

/** Air dryer with its purge. */
export const dryer = part("dryer", {
  fitted: typicalChoice("whether there is one", ["yes", "no"]),
  volume: typical("volume of housing and sump", "volume", "L", [0.2, 20], [0.7, 0.4, 1.5]),
  purgeVolume: typical("volume kept for the purge", "volume", "L", [0.2, 20], [2.5, 1.5, 4]),
  purgeReturn: typical(
    "conductance of the way back through the desiccant",
    "conductance",
    "dm3/(s bar)",
    [0.01, 2],
    [0.12, 0.06, 0.3],
  ),
  purgeConductance: typical("conductance of the open purge valve", "conductance", "dm3/(s bar)", [1, 60], [15, 8, 25]),
});

/** Any tank. */
export const reservoir = part("reservoir", {
  volume: needed("volume", "volume", "L", [0.2, 300]),
  slenderness: typical("length over diameter, which sets its wall area", "ratio", "1", [1, 10], [3, 2, 5]),
  water: typical("water standing in it", "volume", "L", [0, 250], [0, 0, 0.2]),
  drain: typicalChoice("drain", ["manual", "automatic"]),
  drainBore: typical("bore of the drain", "length", "mm", [1, 30], [6, 4, 10]),
  checkValve: typicalChoice("check valve at the inlet", ["yes", "no"]),
  checkCrack: typical("difference at which the check valve opens", "pressure", "psi", [0, 10], [1, 0.3, 2]),
  checkConductance: typical("conductance of the check valve", "conductance", "dm3/(s bar)", [0.2, 60], [6, 3, 10]),
});

/** Safety valve. */
export const safetyValve = part("safetyValve", {
  opens: typical(
    "opens at",
    "pressure",
    "psi",
    [60, 300],
    [150, 140, 170],
    "US Army TM 9-2320-272-10 p. 1-59 (read): 150 psi",
  ),
  reseatDrop: typical("shuts again this much lower", "pressure", "psi", [0.5, 80], [15, 5, 25]),
  conductance: typical("conductance when fully open", "conductance", "dm3/(s bar)", [0.5, 60], [10, 5, 20]),
});

/** Valve that keeps the brakes' air from an auxiliary circuit until there is enough. */
export const protectionValve = part("protectionValve", {
  opens: typical(
    "opens at",
    "pressure",
    "psi",
    [20, 200],
    [65, 60, 85],
    "US Army TM 9-2320-272-10 p. 1-61 (read): 60 to 65 psi",
  ),
  closes: typical("closes at", "pressure", "psi", [10, 195], [60, 50, 75]),
  conductance: typical("conductance when open", "conductance", "dm3/(s bar)", [0.1, 60], [4, 2, 8]),
});

/**
 * One circuit of a multi-circuit protection valve. The source opens a seat alone only at `opens`, which is therefore what a burst
 * circuit leaves to the others; a circuit that holds air is shut off when source and circuit have both fallen to `closes`.
 */
export const multiCircuit = part("multiCircuit", {
  opens: typical("source pressure that lets an empty circuit in", "pressure", "bar", [2, 14], [7, 6, 9]),
  closes: typical("shuts off a circuit that holds air at", "pressure", "bar", [1, 13], [5.5, 4.5, 7]),
  conductance: typical("conductance when open", "conductance", "dm3/(s bar)", [0.2, 60], [5, 3, 8]),
});

/** Doors, suspension, horn: whatever else lives on the air. */
export const auxiliary = part("auxiliary", {
  volume: typical("volume of its tank and pipes", "volume", "L", [0.05, 200], [3, 1, 10]),
  use: typical("free air used while it is worked, at 100 psi", "airFlow", "L/min", [0, 3000], [60, 20, 200]),
});
