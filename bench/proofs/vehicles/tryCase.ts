import { makePlan, type Plan, Simulation } from "@brakeyard/engine";
import { SeededDraws } from "@brakeyard/units";
import { boundsOf, broken, checkValves } from "./bounds.ts";
import { type RandomCase, randomCase } from "./randomCase.ts";

/** What can go against a claim. */
export type FaultKind = "stopped" | "bounds" | "backwards" | "mass" | "energy" | "pieces" | "live";

export interface Fault {
  readonly kind: FaultKind;
  readonly text: string;
}

/** What one case showed. */
export interface Verdict {
  readonly isothermal: boolean;
  /** Largest errors over what stood in the vehicle or moved. */
  readonly massError: number;
  readonly energyError: number;
  /** The surroundings' pressure over the lowest absolute pressure in the vehicle. */
  readonly rarefaction: number;
  readonly faults: readonly Fault[];
}

/** Relative error up to which mass is conserved where mass is a state, and where it follows from pressure to the tolerance of the steps. */
export const MASS_LIMIT = 1e-10;
export const MASS_LIMIT_ISOTHERMAL = 1e-4;
export const ENERGY_LIMIT = 1e-4;

/** Runs one random case, looks at it all the while, and runs it again in other ways that must give the same bits. */
export function tryCase(name: string): Verdict {
  const watch = new Watch();
  try {
    const one = randomCase(name);
    const plan = makePlan(one.assembly.model);
    const live = watch.run(one, plan);
    // Writing out code pays only in longer runs; that it gives the same bits is part of the claim, so some cases do it.
    const whole = atOnce(one, plan, new SeededDraws(`${name} code`).below(4) === 0);
    if (inPieces(one, plan, name) !== whole)
      watch.add("pieces", "cut, saved and restored, it came out with other bits");
    if (live !== whole) watch.add("live", "with its controls known from the start, it came out with other bits");
  } catch (error) {
    watch.add("stopped", error instanceof Error ? (error.stack ?? error.message) : String(error));
  }
  return watch;
}

class Watch implements Verdict {
  isothermal = false;
  massError = 0;
  energyError = 0;
  rarefaction = 1;
  readonly faults: Fault[] = [];

  add(kind: FaultKind, text: string): void {
    this.faults.push({ kind, text });
  }

  /** Live, as a page does it: each entry is handed over when its tick has come. Returns the hash. */
  run(one: RandomCase, plan: Plan): string {
    const { model } = one.assembly;
    this.isothermal = model.nodes.every((node) => node.isothermal);
    const run = new Simulation(model, { plan, start: one.start, straightLine: false });
    const look = this.looker(run);
    const ticks = [...one.log.map((entry) => entry.tick), one.ticks];
    ticks.forEach((tick, i) => {
      // A look halfway, besides the one at the end.
      for (const at of tick === run.tick ? [] : [Math.floor((run.tick + tick) / 2), tick]) look(at);
      const entry = one.log[i];
      if (entry) run.setControl(entry);
    });
    return run.traceHash();
  }

  private looker(run: Simulation): (tick: number) => void {
    const { model } = run;
    const bounds = boundsOf(model);
    const valves = checkValves(model);
    const pressures = model.channels.flatMap((c, i) => (c.source.of === "gaugePressure" ? [i] : []));
    const row = new Float64Array(model.channels.length);
    const air = model.atmosphere.pressurePa;
    return (tick) => {
      advance(run, tick);
      run.sample(tick, row);
      for (const text of broken(bounds, row)) this.add("bounds", `at tick ${tick}: ${text}`);
      for (const text of broken(valves, row)) this.add("backwards", `at tick ${tick}: ${text}`);
      for (const i of pressures) this.rarefaction = Math.max(this.rarefaction, air / Math.max(row[i]! + air, 1e-3));
      this.takeBalance(run);
    };
  }

  private takeBalance(run: Simulation): void {
    const { mass, energy } = run.balance();
    const massError = Math.abs(mass.error) / (mass.start + Math.abs(mass.in) + Math.abs(mass.out));
    const energyError = Math.abs(energy.error) / (energy.start + Math.abs(energy.in) + Math.abs(energy.out));
    if (!(massError <= this.massError)) this.massError = massError;
    if (!(massError <= (this.isothermal ? MASS_LIMIT_ISOTHERMAL : MASS_LIMIT)))
      this.add("mass", `at tick ${run.tick}: mass off by ${massError}`);
    if (!(energyError <= this.energyError)) this.energyError = energyError;
    if (!(energyError <= ENERGY_LIMIT)) this.add("energy", `at tick ${run.tick}: energy off by ${energyError}`);
  }
}

function advance(run: Simulation, tick: number): void {
  const status = run.advanceTo(tick);
  if (!status.ok) throw new Error(`the run stopped: ${status.message}`);
}

function loadedRun({ assembly, start, log }: RandomCase, plan: Plan, straightLine: boolean): Simulation {
  const run = new Simulation(assembly.model, { plan, start, straightLine });
  for (const entry of log) run.setControl(entry);
  return run;
}

/** As a run file does it: all entries known from the start. */
function atOnce(one: RandomCase, plan: Plan, straightLine: boolean): string {
  const run = loadedRun(one, plan, straightLine);
  advance(run, one.ticks);
  return run.traceHash();
}

/** Advanced in random pieces, looked at between, and now and then saved and gone on with elsewhere. */
function inPieces(one: RandomCase, plan: Plan, name: string): string {
  const draws = new SeededDraws(`${name} pieces`);
  let run = loadedRun(one, plan, false);
  while (run.tick < one.ticks) {
    advance(run, Math.min(one.ticks, run.tick + 1 + draws.below(400)));
    if (draws.below(3) === 0) run.sample();
    if (draws.below(3) === 0) run.balance();
    if (draws.below(8) === 0) run = restored(run, plan);
  }
  return run.traceHash();
}

function restored(run: Simulation, plan: Plan): Simulation {
  const other = new Simulation(run.model, { plan, straightLine: false });
  other.restore(Float64Array.from(run.snapshot()));
  return other;
}
