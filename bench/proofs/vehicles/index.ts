import type { Figure, Proof, ProofTools } from "../proof.ts";
import { ENERGY_LIMIT, type Fault, type FaultKind, MASS_LIMIT, MASS_LIMIT_ISOTHERMAL, tryCase } from "./tryCase.ts";

/** Cases of a part at the usual size. */
const CASES = 60;
/** No air in a brake system is thinner: a chamber that springs pull open, cut off from the rest, comes to a quarter. */
const MOST_RAREFIED = 10;

const COUNTED: Readonly<Record<FaultKind, string>> = {
  stopped: "runs that could not be built or did not reach their end",
  bounds: "runs in which a value left its bounds",
  backwards: "runs in which a check valve passed air backwards",
  mass: "runs in which mass was lost or won",
  energy: "runs in which energy was lost or won",
  pieces: "runs that cutting, saving and restoring changed",
  live: "runs that knowing the controls from the start changed",
};

/** Tells which case it was, so that it can be tried alone. */
function tell(name: string, faults: readonly Fault[]): void {
  const lines = faults.slice(0, 5).map(({ text }) => `  ${text}`);
  process.stderr.write(`\nvehicles: tryCase(${JSON.stringify(name)}): ${faults.length} faults\n${lines.join("\n")}\n`);
}

function tryCases(part: string, tools: ProofTools): Figure[] {
  const counts: Record<string, number> = {};
  const worst = { mass: 0, massIsothermal: 0, energy: 0, rarefaction: 0 };
  const cases = Math.ceil(CASES * tools.scale);
  for (let i = 0; i < cases; i++) {
    const name = `${tools.seed} ${part} ${i}`;
    const verdict = tryCase(name);
    if (verdict.faults.length > 0) tell(name, verdict.faults);
    for (const kind of new Set(verdict.faults.map((fault) => fault.kind))) counts[kind] = (counts[kind] ?? 0) + 1;
    if (verdict.isothermal) worst.massIsothermal = Math.max(worst.massIsothermal, verdict.massError);
    else worst.mass = Math.max(worst.mass, verdict.massError);
    worst.energy = Math.max(worst.energy, verdict.energyError);
    worst.rarefaction = Math.max(worst.rarefaction, verdict.rarefaction);
    tools.progress((i + 1) / cases);
  }
  return [
    { name: "largest error of mass", value: worst.mass, unit: "of what stood there or moved", limit: MASS_LIMIT },
    {
      name: "the same, all air at wall temperature",
      value: worst.massIsothermal,
      unit: "of what stood there or moved",
      limit: MASS_LIMIT_ISOTHERMAL,
    },
    { name: "largest error of energy", value: worst.energy, unit: "of what stood there or moved", limit: ENERGY_LIMIT },
    { name: "thinnest air", value: worst.rarefaction, unit: "times thinner than outside", limit: MOST_RAREFIED },
    ...Object.entries(COUNTED).map(([kind, name]) => ({
      name,
      value: counts[kind] ?? 0,
      unit: "in one part",
      limit: 0,
    })),
  ];
}

/** Random vehicles in careless hands. */
export const vehicles: Proof = {
  name: "vehicles",
  claim:
    "Over random vehicles, combinations and trailers on the rig, with random controls, leaks and surroundings: air is neither lost nor won, energy is balanced, " +
    "no pressure is negative, no value leaves its bounds, no check valve passes air backwards, and it makes no difference to any bit how far each call " +
    "advances, who looks, where the run is saved and restored, whether its code is written out, and whether the controls were known from the start. " +
    "Another `--seed` draws other vehicles.",
  parts: ["a", "b", "c", "d", "e", "f", "g", "h", "i", "j"],
  run: tryCases,
};
