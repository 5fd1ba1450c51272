import * as engine from "@brakeyard/engine";
import { COMPRESSOR } from "../check/layout.ts";
import type { CompletePower, CompleteReservoir, CompleteSupply } from "../complete/complete.ts";
import { addCompressor, type Drive } from "./compressor.ts";
import type { Plant, Tap } from "./plant.ts";
import { BODY_M3, cylinderWalls, pipe, SEAT_PA, valve } from "./sizes.ts";
import type { Rest } from "./start.ts";

/** Tank or circuit that the compressor feeds by itself, if it is only one and needs no check valve of its own. */
function onlyTank(power: CompletePower, tanks: readonly CompleteReservoir[]): CompleteReservoir | undefined {
  const direct = tanks.filter((tank) => tank.fedFrom.includes(COMPRESSOR));
  const [first] = direct;
  const alone = direct.length === 1 && first?.fedFrom.length === 1 && first.values.checkValve.value === "no";
  return alone && !power.multiCircuit?.fedFrom.includes(COMPRESSOR) ? first : undefined;
}

/**
 * Compressor, governor, discharge line and dryer. What they feed is the supply tank, or a short line from which check valves or
 * a multi-circuit valve go on; the governor looks there.
 */
export function addSource(plant: Plant, power: CompletePower, drive: Drive, tanks: readonly CompleteReservoir[]): Tap {
  const tank = onlyTank(power, tanks);
  const outlet = tank ? plant.tap(tank.id) : supplyLine(plant, power, tanks);
  if (!tank) plant.offer(COMPRESSOR, outlet);
  addGoverned(plant, power.supply, drive, outlet);
  return outlet;
}

function supplyLine(plant: Plant, power: CompletePower, tanks: readonly CompleteReservoir[]): Tap {
  const fed = tanks.filter((one) => one.fedFrom.includes(COMPRESSOR)).map((one) => one.id);
  const behindValve = tanks.filter((one) =>
    one.fedFrom.some((name) => power.multiCircuit?.circuits.some((c) => c.id === name)),
  );
  const names = fed.length > 0 ? fed : behindValve.map((one) => one.id);
  const rest: Rest = (start) => Math.max(0, ...names.map((name) => start.tank(name)));
  const port = plant.line("supplyLine", SUPPLY_LINE_M3, rest, []);
  plant.sheet.part({
    id: "supplyLine",
    kind: "junction",
    label: "Supply line",
    circuit: "supply",
    ports: { 1: "supplyLine", 2: "supplyLine" },
    channels: {},
    facts: {},
  });
  return { port, node: "supplyLine", part: "supplyLine", number: "2", circuit: "supply", rest, drains: [] };
}

/** Two metres of 12 mm pipe. */
const SUPPLY_LINE_M3 = 0.00023;

function addGoverned(plant: Plant, supply: CompleteSupply, drive: Drive, outlet: Tap): void {
  const { governor } = supply;
  const loaded = engine.addGovernor(
    plant.net,
    "governor",
    {
      sensed: outlet.port,
      ...optional("stuckLoaded", plant.faults.signal("governorStuckLoaded")),
      ...optional("stuckUnloaded", plant.faults.signal("governorStuckUnloaded")),
    },
    { cutInPa: governor.cutIn.si, cutOutPa: governor.cutOut.si },
  );
  const discharge =
    supply.dryer.fitted.value === "yes" ? addDryer(plant, supply, outlet, loaded) : addDischarge(plant, supply, outlet);
  addCompressor(plant, supply, drive, discharge, loaded);
  drawGovernor(plant, supply, outlet);
}

function optional<K extends string>(key: K, signal: engine.Signal | undefined): { readonly [P in K]?: engine.Signal } {
  return (signal ? { [key]: signal } : {}) as { readonly [P in K]?: engine.Signal };
}

function addDryer(plant: Plant, supply: CompleteSupply, outlet: Tap, loaded: engine.Signal): engine.Port {
  const { dryer, dischargeLine } = supply;
  const { discharge, purgeVolume } = engine.addDryer(
    plant.net,
    "dryer",
    { outlet: outlet.port, loaded, ...optional("purgeStuckOpen", plant.faults.signal("purgeValveStuckOpen")) },
    {
      sumpVolumeM3: dischargeVolumeM3(supply) + dryer.volume.si,
      dischargeHeat: { kind: "constant", conductanceWPerK: dischargeLine.cooling.si },
      purgeVolumeM3: dryer.purgeVolume.si,
      purgeHeat: cylinderWalls(dryer.purgeVolume.si, PURGE_SLENDERNESS),
      through: { conductance: THROUGH, criticalRatio: 0.3 },
      purgeValve: valve(dryer.purgeConductance),
      purgeReturn: valve(dryer.purgeReturn),
      outletCheck: OUTLET_CHECK,
    },
  );
  const charged: Rest = (start) => (start.loaded ? outlet.rest(start) : 0);
  plant.note("dryer.sump", discharge, charged, []);
  plant.note("dryer.purgeVolume", purgeVolume, charged, []);
  plant.sheet.part({
    id: "dryer",
    kind: "dryer",
    label: "Air dryer",
    circuit: "supply",
    ports: { 1: "dryer.sump", 21: outlet.node, 22: "dryer.purgeVolume", 3: undefined, 4: outlet.node },
    channels: { purge: "flow.dryer.purge", flow: "flow.dryer.outlet", position: "mode.governor.loaded" },
    facts: { purgeVolume: dryer.purgeVolume },
  });
  plant.sheet.join({ ...COMPRESSED, node: "dryer.sump" }, { part: "dryer", port: "1" }, { flow: "flow.compressor" });
  const dried = { node: outlet.node, part: "dryer", number: "21", circuit: "supply" as const };
  plant.sheet.join(dried, { part: outlet.part, port: "1" }, { flow: "flow.dryer.outlet" });
  return discharge;
}

/** Where the picture's compressor gives its air out. */
const COMPRESSED = { part: COMPRESSOR, number: "2", circuit: "supply" as const };

/** Purge volumes are stubby: as long as one and a half diameters. */
const PURGE_SLENDERNESS = 1.5;

/** Desiccant bed and discharge check valve, m3/(s Pa): wide against what a compressor delivers. Common practice, no source */
const THROUGH = 8e-8;

const OUTLET_CHECK = { size: { conductance: THROUGH, criticalRatio: 0.3 }, crackPa: 0.3 * SEAT_PA, openingPa: SEAT_PA };

function dischargeVolumeM3(supply: CompleteSupply): number {
  return engine.lineVolumeM3(pipe(supply.dischargeLine.length, supply.dischargeLine.bore));
}

/** Without a dryer the discharge line ends at a check valve. */
function addDischarge(plant: Plant, supply: CompleteSupply, outlet: Tap): engine.Port {
  const discharge = plant.net.volume("discharge", {
    volumeM3: dischargeVolumeM3(supply) + 4 * BODY_M3,
    heat: { kind: "constant", conductanceWPerK: supply.dischargeLine.cooling.si },
  });
  plant.note("discharge", discharge, outlet.rest, []);
  engine.addCheckValve(plant.net, "discharge.check", { from: discharge, to: outlet.port }, OUTLET_CHECK);
  plant.sheet.join(
    { ...COMPRESSED, node: "discharge" },
    { part: outlet.part, port: "1" },
    { flow: "flow.discharge.check" },
  );
  return discharge;
}

function drawGovernor(plant: Plant, supply: CompleteSupply, outlet: Tap): void {
  plant.sheet.part({
    id: "governor",
    kind: "governor",
    label: supply.compressor.drive === "electric" ? "Pressure switch" : "Governor",
    circuit: "supply",
    ports: { 1: outlet.node, 4: outlet.node },
    channels: { position: "mode.governor.loaded" },
    facts: { cutOut: supply.governor.cutOut, cutIn: supply.governor.cutIn },
  });
  plant.sheet.join(outlet, { part: "governor", port: "4" }, { role: "signal" });
}
