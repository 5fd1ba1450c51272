import { addLeak, type FlowSize, holeFlow, rateFlow } from "@brakeyard/engine";
import { AssemblyError, type LeakSize } from "./options.ts";
import type { Plant } from "./plant.ts";

/** All leaks of one kind at one place. */
export function addLeaks(
  plant: Plant,
  kind: "leak" | "tornServiceDiaphragm" | "springSideLeak",
  where: string,
  node: string,
): void {
  for (const { spec, signal } of plant.faults.all(kind, where)) {
    const at = plant.nodes.get(node);
    if (!at) throw new Error(`there is no node ${node}`);
    addLeak(plant.net, spec.name, at.port, leakFlow(plant, spec.name, spec.size, at.drains), [signal]);
  }
}

/** Leaks and bursts at any node; called when all nodes are there. */
export function addLeaksAnywhere(plant: Plant): void {
  for (const node of plant.nodes.keys()) addLeaks(plant, "leak", node, node);
  for (const tank of plant.tankM3.keys()) {
    for (const { spec, signal } of plant.faults.all("burst", tank)) {
      addLeak(plant.net, spec.name, plant.tap(tank).port, holeFlow(spec.boreM), [signal]);
    }
  }
}

/**
 * Conductance of a leak. One given as a fall of pressure empties the tanks that feed the place, so their volume decides how large
 * the hole is.
 */
function leakFlow(plant: Plant, name: string, size: LeakSize, drains: readonly string[]): FlowSize {
  if ("holeM" in size) return holeFlow(size.holeM);
  const tanksM3 = drains.reduce((sum, tank) => sum + (plant.tankM3.get(tank) ?? 0), 0);
  const volumeM3 = size.volumeM3 ?? tanksM3;
  if (!(volumeM3 > 0)) {
    throw new AssemblyError(
      name,
      "no tank feeds this place, so a fall of pressure has no meaning",
      "give a hole, or a volume",
    );
  }
  const { pressurePa, temperatureK } = plant.surroundings;
  return rateFlow({ ratePaPerS: size.ratePaPerS, absolutePa: size.atGaugePa + pressurePa, volumeM3, temperatureK });
}
