import { Simulation, type Statistics, tickTimeS } from "@brakeyard/engine";
import type { Session } from "./session.ts";
import type { BenchSubject } from "./subjects.ts";

/** How often a run is asked to go on, as a page would ask at ten times the pace of time. */
const CHUNK_TICKS = 100;

/** Runs a session from start to end with the product's own stepping. */
export function runProduct(subject: BenchSubject, session: Session, tolerance?: number): Simulation {
  const { model, plan } = subject;
  const { start } = session;
  const run = new Simulation(model, { plan, start, ...(tolerance === undefined ? {} : { tolerance }) });
  for (const entry of session.log) run.setControl(entry);
  for (let tick = 0; tick < session.ticks; tick += CHUNK_TICKS)
    advance(run, Math.min(tick + CHUNK_TICKS, session.ticks));
  return run;
}

export function advance(run: Simulation, tick: number): void {
  const status = run.advanceTo(tick);
  if (!status.ok) throw new Error(`the run stopped: ${status.message}`);
}

/** Seconds that a session lasts in the vehicle. */
export function lengthS(session: Session): number {
  return tickTimeS(session.ticks);
}

export type { Statistics };
