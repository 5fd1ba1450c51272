import { type ControlEntry, PSI, Simulation } from "@brakeyard/engine";
import { BitHash, hashOfText } from "@brakeyard/units";
import { type Assembly, assemble, completeVehicle, fleet, loadVehicle, type StartRequest } from "@brakeyard/vehicle";
import type { Workload } from "./workload.ts";

/** A run from files to trace: the assembled vehicle, how it starts, what is done, and for how long. */
interface Session {
  readonly assembly: Assembly;
  readonly start: StartRequest;
  readonly log: readonly ControlEntry[];
  readonly ticks: number;
}

/** How often the channels are read, ticks. */
const LOOK_EVERY = 7;

function complete(id: string) {
  const file = fleet.find((vehicle) => vehicle.id === id);
  const loaded = file && loadVehicle(file.vehicle());
  if (!loaded?.ok) throw new Error(`the demo fleet has no good "${id}"`);
  return completeVehicle(loaded.vehicle);
}

/** Pedal down over some ticks, held, and up again. */
function application(tick: number, travel: number, heldTicks: number): ControlEntry[] {
  const down = [1, 2, 3, 4].map((k) => ({ tick: tick + k, control: "pedal", value: (travel * k) / 4 }));
  const up = [3, 2, 1, 0].map((k) => ({ tick: tick + heldTicks + 4 - k, control: "pedal", value: (travel * k) / 4 }));
  return [...down, ...up];
}

function steps(list: readonly (readonly [number, string, number])[]): ControlEntry[] {
  return list.map(([tick, control, value]) => ({ tick, control, value }));
}

/** Two-axle bus: build-up to cut-out and purge, release, three applications, a leak, park, drain to the warning and pop-out. */
function busSession(): Session {
  const assembly = assemble(
    { vehicle: complete("harrow-ridge-12") },
    {
      surroundings: { temperatureK: 283.15, pressurePa: 92000 },
      faults: [{ kind: "leak", name: "rub", where: "secondary", size: { holeM: 0.002 } }],
    },
  );
  const [fault] = assembly.faults;
  const log = [
    ...steps([
      [0, "key", 1],
      [20, "starter", 1],
      [120, "starter", 0],
      [150, "throttle", 2000],
      [1400, "parking", 1],
      [2000, "throttle", 0],
    ]),
    ...application(2050, 0.35, 100),
    ...application(2250, 1, 150),
    ...steps([[2450, "key", 0]]),
    ...application(2500, 0.62, 60),
    ...steps([
      [2600, fault?.control ?? "", 1],
      [2800, "parking", 0],
      [2950, "parking", 1],
      [3100, "drain.supply", 1],
      [3100, "drain.primary", 1],
      [3110, "drain.secondary", 0.8],
    ]),
  ];
  return { assembly, start: { otherTanksPa: 95 * PSI, parking: "out" }, log, ticks: 4500 };
}

/** Ten brakes: applications by pedal and hand, then the supply line parts and the control pops. */
function combinationSession(): Session {
  const assembly = assemble({ tractor: complete("harrow-ridge-tractor"), trailer: complete("harrow-ridge-semi") });
  const log = [
    ...application(50, 0.7, 80),
    ...steps([
      [250, "handValve", 0.6],
      [330, "handValve", 0],
      [500, "coupling.supply", 1],
      [700, "parking", 0],
    ]),
  ];
  const start = { otherTanksPa: 115 * PSI, parking: "in", trailerSupply: "in", engineRpm: 700 } as const;
  return { assembly, start, log, ticks: 900 };
}

function begin({ assembly, start, log }: Session, straightLine: boolean): Simulation {
  const run = new Simulation(assembly.model, { start: assembly.start(start), straightLine });
  for (const entry of log) run.setControl(entry);
  return run;
}

function advance(run: Simulation, tick: number): void {
  const status = run.advanceTo(tick);
  if (!status.ok) throw new Error(status.message);
}

/** Fingerprint of every step of a run that nobody looks at. */
function traceOf(session: Session, straightLine: boolean): string {
  const run = begin(session, straightLine);
  advance(run, session.ticks);
  return run.traceHash();
}

/** Fingerprints of a run: its model, every step, and what is seen of it (all channels, the events, the balance). */
function watched(session: Session): { model: string; trace: string; seen: string } {
  const run = begin(session, true);
  const hash = new BitHash();
  const channels = new Float64Array(session.assembly.model.channels.length);
  for (let tick = 0; tick <= session.ticks; tick += LOOK_EVERY) {
    advance(run, tick);
    for (const value of run.sample(tick, channels)) hash.addNumber(value);
    for (const event of run.takeEvents()) hash.addText(event.text).addNumber(event.timeS);
  }
  advance(run, session.ticks);
  const { mass, energy } = run.balance();
  for (const value of [...Object.values(mass), ...Object.values(energy)]) hash.addNumber(value);
  const model = hashOfText(JSON.stringify(session.assembly.model));
  return { model, trace: run.traceHash(), seen: hash.digest() };
}

/** From the checked file to the trace; `bus-trace-by-tables` must equal `bus-trace`, and is not looked at on its way. */
export function engineWorkloads(): readonly Workload[] {
  const bus = busSession();
  const named = (name: string, session: Session): Workload[] => {
    let seen: ReturnType<typeof watched> | undefined;
    const once = (): ReturnType<typeof watched> => {
      seen ??= watched(session);
      return seen;
    };
    return [
      { name: `${name}-model`, run: () => once().model },
      { name: `${name}-trace`, run: () => once().trace },
      { name: `${name}-seen`, run: () => once().seen },
    ];
  };
  return [
    ...named("bus", bus),
    { name: "bus-trace-by-tables", run: () => traceOf(bus, false) },
    ...named("combination", combinationSession()),
  ];
}
