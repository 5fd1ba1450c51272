import * as engine from "@brakeyard/engine";
import type { Rig } from "./options.ts";
import type { Plant, Tap } from "./plant.ts";
import { BODY_M3, cylinderWalls, SEAT_PA } from "./sizes.ts";
import { EMPTY, type Rest } from "./start.ts";

/** What a trailer under test is coupled to. */
export interface RigEnds {
  readonly supply: Tap;
  readonly service: Tap;
}

/** The rig of the standard: 1000 in3 held at 100 psi. @source 49 CFR 571.121 Figure 1, S5.8.2 letters (read) */
export const STANDARD_RIG: Rig = { pressurePa: 689475.7293168361, tankM3: 0.016387064 };

/** Wide pipes and fittings of a rig, m3/(s Pa): 12 mm bore, short. Not stated in what could be read; common practice, no source. */
const RIG_FLOW = { conductance: 1.2e-7, criticalRatio: 0.3 };
/** Supply behind the regulator: so large that a test does not change it. */
const SOURCE_M3 = 2;

/**
 * Test rig for a trailer alone: a regulated tank feeds the supply coupling through a shut-off valve (control `trailerSupply`) and
 * the service coupling through a quick valve (control `handValve`, 1 fully open).
 */
export function addRig(plant: Plant, rig: Rig): RigEnds {
  const full: Rest = () => rig.pressurePa;
  const source = volume(plant, "rig.source", SOURCE_M3, () => rig.pressurePa + 50 * SEAT_PA);
  const tank = volume(plant, "rig.tank", rig.tankM3, full);
  engine.addRegulator(
    plant.net,
    "rig.regulator",
    { from: source, to: tank },
    { setPa: rig.pressurePa, widthPa: SEAT_PA, size: RIG_FLOW },
  );
  const supplied: Rest = (start) => (start.trailerSupplyIn ? rig.pressurePa : 0);
  const supply = plant.line("supplyCoupling", 4 * BODY_M3, supplied, []);
  engine.addPushPullControl(
    plant.net,
    "trailerSupply",
    "shut-off valve of the rig",
    { supply: tank, delivery: supply, sensed: tank, needs: [] },
    { popsOutPa: -SEAT_PA, holdsInPa: 0, supply: RIG_FLOW, exhaust: RIG_FLOW },
  );
  const service = plant.line("serviceCoupling", 4 * BODY_M3, EMPTY, []);
  engine.addHandValve(
    plant.net,
    { supply: tank, delivery: service },
    { maximumPa: FULLY_OPEN_PA, hysteresisPa: SEAT_PA, seatPa: SEAT_PA, supply: RIG_FLOW, exhaust: RIG_FLOW },
  );
  draw(plant);
  const shared = { part: "rig", drains: [] };
  return {
    supply: {
      ...shared,
      port: supply,
      node: "supplyCoupling",
      number: "21",
      circuit: "trailerSupply",
      rest: supplied,
      flow: "flow.trailerSupply",
    },
    service: {
      ...shared,
      port: service,
      node: "serviceCoupling",
      number: "22",
      circuit: "trailerService",
      flow: "flow.handValve",
      rest: EMPTY,
    },
  };
}

/** Far above any rig pressure, so that the quick valve at 1 stands open, and at small travel still graduates. */
const FULLY_OPEN_PA = 2e6;

function volume(plant: Plant, name: string, volumeM3: number, rest: Rest): engine.Port {
  const port = plant.net.volume(name, { volumeM3, heat: cylinderWalls(volumeM3, 3) });
  plant.note(name, port, rest, []);
  return port;
}

function draw(plant: Plant): void {
  plant.sheet.part({
    id: "rig",
    kind: "testRig",
    label: "Test rig",
    circuit: "supply",
    ports: { 1: "rig.tank", 21: "supplyCoupling", 22: "serviceCoupling", 3: undefined },
    channels: { regulator: "flow.rig.regulator", supply: "flow.trailerSupply", service: "flow.handValve" },
    facts: {},
  });
}
