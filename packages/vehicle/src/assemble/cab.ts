import * as engine from "@brakeyard/engine";
import type { CompleteCab } from "../complete/complete.ts";
import type { Plant, Tap } from "./plant.ts";
import type { Deliveries } from "./service.ts";
import { SEAT_PA } from "./sizes.ts";

/** Needles, lamps and buzzer: everything a driver can read. */
export function addCab(
  plant: Plant,
  cab: CompleteCab,
  key: engine.Signal,
  deliveries: Deliveries,
  hand: Tap | undefined,
): void {
  addWarning(plant, cab, key);
  const lines = {
    primary: deliveries.primary.port,
    secondary: deliveries.secondary.port,
    ...(hand && { hand: hand.port }),
  };
  engine.addStopLamp(plant.net, lines, cab.stopLamp.closesAbove.si, undefined);
  for (const needle of cab.gauges) addNeedle(plant, needle, deliveries);
  addTestGauges(plant, deliveries);
  plant.net.control({ id: "chocks", kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" });
}

function addWarning(plant: Plant, cab: CompleteCab, key: engine.Signal): void {
  const switches = cab.watches.flatMap((tank) => addSwitch(plant, cab, tank));
  engine.addWarning(plant.net, "lowAir", switches, key, cab.lowAir.buzzer.value === "yes");
}

/** A switch; one that is to be found set low is two, of which a fault exchanges the working one. */
function addSwitch(plant: Plant, cab: CompleteCab, tank: string): engine.Signal[] {
  const port = plant.tap(tank).port;
  const closesPa = cab.lowAir.closesBelow.si;
  const band = cab.lowAir.band.si;
  const dead = plant.faults.signal("lowAirSwitchDead", tank);
  const low = plant.faults.find("lowAirSwitchLow", tank);
  draw(plant, cab, tank);
  const out = low ? (dead ? engine.either(plant.net, `lowAirSwitch.${tank}.out`, dead, low.signal) : low.signal) : dead;
  const healthy = engine.addLowAirSwitch(plant.net, tank, port, { closesPa, opensPa: closesPa + band }, out);
  if (!low) return [healthy];
  const idle = engine.not(plant.net, `lowAirSwitch.${tank}.lowIdle`, low.signal);
  const params = { closesPa: low.spec.closesBelowPa, opensPa: low.spec.closesBelowPa + band };
  return [healthy, engine.addLowAirSwitch(plant.net, `${tank}.low`, port, params, idle)];
}

function draw(plant: Plant, cab: CompleteCab, tank: string): void {
  const tap = plant.tap(tank);
  const id = `lowAirSwitch.${tank}`;
  plant.sheet.part({
    id,
    kind: "lowAirSwitch",
    label: "Low-air switch",
    circuit: tap.circuit,
    ports: { 1: tap.node },
    channels: { position: `mode.${id}` },
    facts: { closesBelow: cab.lowAir.closesBelow },
  });
  plant.sheet.join(tap, { part: id, port: "1" }, { role: "signal" });
}

function addNeedle(plant: Plant, needle: CompleteCab["gauges"][number], deliveries: Deliveries): void {
  const port = needle.shows === "application" ? deliveries.primary.port : plant.tap(needle.shows).port;
  const lies = plant.faults.find("gaugeReadsHigh", needle.id);
  engine.addGauge(
    plant.net,
    needle.id,
    port,
    {
      lagS: needle.values.lag.si,
      offsetPa: needle.values.error.si,
      gain: 1,
      resolutionPa: needle.values.resolution.si,
    },
    lies ? { lies: { fault: lies.signal, offsetPa: lies.spec.byPa } } : {},
  );
}

/** A good gauge on a hose, for plugging into a test connection: half a psi, and quick. */
const TEST_GAUGE = { lagS: 0.1, offsetPa: 0, gain: 1, resolutionPa: 0.5 * SEAT_PA };

/** Test connections at every tank and at both deliveries. */
function addTestGauges(plant: Plant, deliveries: Deliveries): void {
  for (const tank of plant.tankM3.keys()) engine.addGauge(plant.net, `test.${tank}`, plant.tap(tank).port, TEST_GAUGE);
  engine.addGauge(plant.net, "test.primaryDelivery", deliveries.primary.port, TEST_GAUGE);
  engine.addGauge(plant.net, "test.secondaryDelivery", deliveries.secondary.port, TEST_GAUGE);
}
