import { type EngineModel, Simulation } from "@brakeyard/engine";
import { type Assembly, assemble, completeVehicle, loadVehicle, STANDARD_RIG, type Subject } from "@brakeyard/vehicle";
import { type Recipe, recipe, vehicleText } from "@brakeyard/vehicle/test-support";
import fc from "fast-check";

/**
 * What must hold whatever vehicle stands there and whatever a person does to it: random valid vehicles and random controls through public entries,
 * a few with fixed seeds. `npm run prove` tries many more, fresh ones (bench/proofs/vehicles).
 */

/** A control moved by somebody: after how many ticks, which of the vehicle's controls, and how far. */
interface Move {
  readonly waitTicks: number;
  readonly control: number;
  readonly value: number;
}

/** One run, as plain data, so that a failing one prints as something to read. */
export interface Story {
  readonly vehicle: Recipe;
  /** A trailer behind it, when it is a tractor. */
  readonly behind: Recipe;
  readonly psi: number;
  readonly parked: boolean;
  readonly turning: boolean;
  readonly isothermal: boolean;
  readonly moves: readonly Move[];
}

const move: fc.Arbitrary<Move> = fc.record({
  waitTicks: fc.integer({ min: 1, max: 300 }),
  control: fc.nat({ max: 1000 }),
  value: fc.constantFrom(0, 1, 1, 0.5, 0.05, 0.93),
});

export const story: fc.Arbitrary<Story> = fc.record({
  vehicle: recipe,
  behind: recipe,
  psi: fc.integer({ min: 0, max: 130 }),
  parked: fc.boolean(),
  turning: fc.boolean(),
  isothermal: fc.boolean(),
  moves: fc.array(move, { minLength: 3, maxLength: 25 }),
});

function complete(of: Recipe) {
  const loaded = loadVehicle(vehicleText(of));
  if (!loaded.ok) throw new Error(`the recipe makes no valid vehicle: ${JSON.stringify(loaded.problems[0])}`);
  return completeVehicle(loaded.vehicle);
}

function subjectOf({ vehicle, behind }: Story): Subject {
  const one = complete(vehicle);
  if (one.kind === "trailer") return { trailer: one, rig: STANDARD_RIG };
  if (one.kind !== "tractor") return { vehicle: one };
  return { tractor: one, trailer: complete({ ...behind, kind: "trailer" }) };
}

/** What a run may not do, each with how far it went; empty when all was well. */
export interface Broken {
  readonly what: string;
  readonly value: number;
}

/** Largest figures of a run, for those who want to see more than that it held. */
export interface Extremes {
  massError: number;
  energyError: number;
  /** Lowest absolute pressure, and where. */
  lowestPa: number;
  lowestAt: string;
  backwardKgPerS: number;
}

const LEAST_PA = 0;
/** Air that expands or is compressed far and fast; beyond this something is wrong. */
const TEMPERATURES_K = [100, 700] as const;
/** Mass is a state where air carries temperature, so stepping cannot lose any; held at wall temperature it follows from pressures. */
const MASS = { warm: 1e-12, isothermal: 1e-4 };
/** Energy is not linear in the states, so it shows the error of the stepping. Held at wall temperature it is not audited. */
const ENERGY = { warm: 1e-3, isothermal: Number.POSITIVE_INFINITY };
const LOOK_TICKS = 20;
/** Rounding of a flow that is nothing, kg/s. */
const NOTHING_KG_PER_S = 1e-12;

type Bound = { readonly low: number; readonly high: number };

/** Bounds of every channel that has any, by its number. */
function boundsOf(assembly: Assembly): ReadonlyMap<number, Bound> {
  const { model } = assembly;
  const checks = new Set(
    assembly.schematic.parts.filter((part) => part.kind === "checkValve").map((part) => part.channels["flow"]),
  );
  const entries = model.channels.map((channel, i): [number, Bound | undefined] => {
    if (checks.has(channel.id)) return [i, { low: -NOTHING_KG_PER_S, high: 10 }];
    return [i, boundOf(model, channel.id)];
  });
  return new Map(entries.filter((entry): entry is [number, Bound] => entry[1] !== undefined));
}

function boundOf(model: EngineModel, id: string): Bound | undefined {
  const [kind, ...rest] = id.split(".");
  const chamber = model.chambers.find((one) => one.name === rest.join("."));
  const stroke = chamber?.law.strokeM.at(-1) ?? 0;
  const share = { low: 0, high: 1 };
  const bounds: Readonly<Record<string, Bound>> = {
    pressure: { low: LEAST_PA - model.atmosphere.pressurePa, high: 2e6 },
    temperature: { low: TEMPERATURES_K[0], high: TEMPERATURES_K[1] },
    stroke: { low: 0, high: stroke * (1 + 1e-9) },
    springStroke: { low: -1e-4, high: stroke * (1 + 1e-9) },
    rodForce: { low: 0, high: 1e5 },
    springForce: { low: 0, high: 1e5 },
    opening: share,
    exhausting: share,
    mode: share,
    lamp: share,
    buzzer: share,
    water: { low: 0, high: 1 },
  };
  return kind === undefined ? undefined : bounds[kind];
}

function lookAt(
  run: Simulation,
  bounds: ReadonlyMap<number, Bound>,
  row: Float64Array<ArrayBuffer>,
  extremes: Extremes,
): Broken[] {
  const { channels, atmosphere } = run.model;
  run.sample(run.tick, row);
  const broken: Broken[] = [];
  for (const [i, { low, high }] of bounds) {
    const value = row[i]!;
    const { id } = channels[i]!;
    if (id.startsWith("pressure.") && value + atmosphere.pressurePa < extremes.lowestPa) {
      extremes.lowestPa = value + atmosphere.pressurePa;
      extremes.lowestAt = id;
    }
    if (id.startsWith("flow.")) extremes.backwardKgPerS = Math.max(extremes.backwardKgPerS, -value);
    if (!(value >= low && value <= high)) broken.push({ what: `${id} at tick ${run.tick}`, value });
  }
  return broken;
}

function lookAtBalance(run: Simulation, kind: "warm" | "isothermal", extremes: Extremes): Broken[] {
  const { mass, energy } = run.balance();
  const massError = Math.abs(mass.error) / (mass.start + Math.abs(mass.in) + Math.abs(mass.out));
  const energyError = Math.abs(energy.error) / (energy.start + Math.abs(energy.in) + Math.abs(energy.out));
  if (kind === "warm") {
    extremes.massError = Math.max(extremes.massError, massError);
    extremes.energyError = Math.max(extremes.energyError, energyError);
  }
  return [
    ...(massError <= MASS[kind] ? [] : [{ what: "mass balance", value: massError }]),
    ...(energyError <= ENERGY[kind] ? [] : [{ what: "energy balance", value: energyError }]),
  ];
}

function begin(told: Story, assembly: Assembly, model: EngineModel): Simulation {
  const engineRpm = told.turning && assembly.speedsRpm ? assembly.speedsRpm.fastIdle : 0;
  const parking = told.parked ? "out" : "in";
  const start = assembly.start({
    otherTanksPa: told.psi * 6894.757,
    parking,
    trailerSupply: parking,
    engineRpm,
    key: 1,
  });
  return new Simulation(model, { start });
}

function doMove(run: Simulation, { control, value }: Move): void {
  const { controls } = run.model;
  const spec = controls[control % controls.length]!;
  const wanted = spec.minimum + (spec.maximum - spec.minimum) * value;
  run.setControl({ tick: run.tick, control: spec.id, value: wanted });
}

/**
 * Tells one story and says what broke. A run that cannot go on has broken too.
 * @param spoil makes a vehicle that must break something, to see that it is found
 */
export function tell(
  told: Story,
  extremes: Extremes = noExtremes(),
  spoil: (model: EngineModel) => EngineModel = (model) => model,
): Broken[] {
  const assembly = assemble(subjectOf(told), { isothermal: told.isothermal });
  const run = begin(told, assembly, spoil(assembly.model));
  const bounds = boundsOf(assembly);
  const row = new Float64Array(run.model.channels.length);
  const broken: Broken[] = [];
  for (const one of told.moves) {
    doMove(run, one);
    const until = run.tick + one.waitTicks;
    while (run.tick < until && broken.length === 0) {
      const status = run.advanceTo(Math.min(until, run.tick + LOOK_TICKS));
      if (!status.ok) return [{ what: `the run stopped: ${status.message}`, value: status.tick }];
      broken.push(...lookAt(run, bounds, row, extremes));
    }
    if (broken.length > 0) return broken;
  }
  return lookAtBalance(run, told.isothermal ? "isothermal" : "warm", extremes);
}

export function noExtremes(): Extremes {
  return { massError: 0, energyError: 0, lowestPa: Number.POSITIVE_INFINITY, lowestAt: "", backwardKgPerS: 0 };
}
