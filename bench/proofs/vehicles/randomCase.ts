import { type ControlEntry, PSI, type StartState } from "@brakeyard/engine";
import { SeededDraws } from "@brakeyard/units";
import {
  type Assembly,
  assemble,
  type CompleteVehicle,
  completeVehicle,
  type FaultSpec,
  loadVehicle,
  problemText,
  STANDARD_RIG,
  type Subject,
} from "@brakeyard/vehicle";
import { type Recipe, recipe, vehicleText } from "@brakeyard/vehicle/test-support";
import fc from "fast-check";

/** A vehicle drawn at random, and what a careless hand does with it. */
export interface RandomCase {
  readonly assembly: Assembly;
  readonly start: StartState;
  readonly log: readonly ControlEntry[];
  readonly ticks: number;
}

const ENTRIES = 40;
/** Longest pause between two entries, ticks. */
const LONGEST_PAUSE = 1500;

/** The case of a name: the same name gives the same case. */
export function randomCase(name: string): RandomCase {
  const draws = new SeededDraws(name);
  const subject = randomSubject(draws);
  const assembly = assemble(subject, {
    surroundings: { temperatureK: draws.between(245, 315), pressurePa: draws.between(68_000, 103_000) },
    isothermal: draws.below(8) === 0,
    faults: randomFaults(draws, subject),
  });
  const { log, ticks } = randomLog(draws, assembly);
  return { assembly, start: randomStart(draws, assembly), log, ticks };
}

/** A vehicle alone, a combination, or a trailer on the test rig. */
function randomSubject(draws: SeededDraws): Subject {
  const kind = draws.pick(["bus", "truck", "tractor", "combination", "rig"] as const);
  if (kind === "combination")
    return { tractor: randomVehicle(draws, "tractor"), trailer: randomVehicle(draws, "trailer") };
  if (kind === "rig") return { trailer: randomVehicle(draws, "trailer"), rig: STANDARD_RIG };
  return { vehicle: randomVehicle(draws, kind) };
}

function randomVehicle(draws: SeededDraws, kind: Recipe["kind"]): CompleteVehicle {
  const [drawn] = fc.sample(recipe, { seed: draws.word() | 0, numRuns: 1 }) as [Recipe];
  const loaded = loadVehicle(vehicleText({ ...drawn, kind }));
  if (!loaded.ok) throw new Error(`a random vehicle is refused: ${problemText(loaded.problems)}`);
  return completeVehicle(loaded.vehicle);
}

/** Half of the vehicles leak, which the hand can bring on and take away. */
function randomFaults(draws: SeededDraws, subject: Subject): FaultSpec[] {
  if (draws.below(2) === 0) return [];
  const where =
    "vehicle" in subject ? draws.pick(["primary", "secondary"]) : "trailer" in subject ? "trailer.trailer" : "primary";
  return [{ kind: "leak", name: "hole", where, size: { holeM: draws.between(0.0002, 0.006) } }];
}

function randomStart(draws: SeededDraws, assembly: Assembly): StartState {
  const running = assembly.speedsRpm !== null && draws.below(2) === 0;
  return assembly.start({
    otherTanksPa: draws.between(0, 130) * PSI,
    parking: draws.pick(["in", "out"] as const),
    trailerSupply: draws.pick(["in", "out"] as const),
    engineRpm: running ? assembly.speedsRpm.idle : 0,
  });
}

function randomLog(draws: SeededDraws, assembly: Assembly): { log: ControlEntry[]; ticks: number } {
  const log: ControlEntry[] = [];
  let tick = 0;
  for (let i = 0; i < ENTRIES; i++) {
    const control = draws.pick(assembly.model.controls);
    const { minimum, maximum, kind } = control;
    const jumps = kind === "command" || draws.below(3) > 0;
    const value = jumps ? draws.pick([minimum, maximum]) : draws.between(minimum, maximum);
    log.push({ tick, control: control.id, value });
    // Short pauses are the likelier ones, none at all included.
    tick += Math.floor(draws.fraction() * draws.fraction() * LONGEST_PAUSE);
  }
  return { log, ticks: tick + 1 };
}
