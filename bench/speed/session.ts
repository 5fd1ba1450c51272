import { type ControlEntry, PSI, Simulation, type StartState } from "@brakeyard/engine";
import type { BenchSubject } from "./subjects.ts";

/** A start and what somebody did from there: everything a run needs. */
export interface Session {
  readonly title: string;
  readonly start: StartState;
  readonly log: readonly ControlEntry[];
  readonly ticks: number;
}

const TICKS_PER_S = 100;
/** How long readings are left to settle before a minute is clocked. */
const SETTLE_S = 20;
const MINUTE_S = 60;
/** Rhythm of somebody who fans the pedal down. Common practice, no source: a press every two to three seconds. */
const PRESS = { downS: 0.25, holdS: 0.9, upS: 0.2, restS: 1.05 };
const MOST_PRESSES = 80;

/**
 * Somebody at the controls: looks at the vehicle as the session goes on and writes down what was done, as a page does. The log is what is
 * measured afterwards; the looking is not.
 */
class Driver {
  readonly log: ControlEntry[] = [];
  readonly start: StartState;
  private readonly run: Simulation;
  private readonly channel: Map<string, number>;
  private readonly row: Float64Array<ArrayBuffer>;

  constructor(subject: BenchSubject, start: StartState) {
    this.start = start;
    this.run = new Simulation(subject.model, { plan: subject.plan, start });
    this.channel = new Map(subject.model.channels.map((c, i) => [c.id, i]));
    this.row = new Float64Array(subject.model.channels.length);
  }

  value(channel: string): number {
    const at = this.channel.get(channel);
    if (at === undefined) throw new Error(`the bench vehicle has no channel ${channel}`);
    return this.run.sample(this.run.tick, this.row)[at] as number;
  }

  set(control: string, value: number): void {
    this.enter({ tick: this.run.tick, control, value });
  }

  private enter(entry: ControlEntry): void {
    this.run.setControl(entry);
    this.log.push(entry);
  }

  wait(seconds: number): void {
    const status = this.run.advanceTo(this.run.tick + Math.round(seconds * TICKS_PER_S));
    if (!status.ok) throw new Error(`the session stopped: ${status.message}`);
  }

  /** Moves evenly from one value to another, one entry a tick as a foot does. */
  move(control: string, from: number, to: number, seconds: number): void {
    const ticks = Math.round(seconds * TICKS_PER_S);
    for (let i = 1; i <= ticks; i++) {
      this.enter({ tick: this.run.tick + i - 1, control, value: from + ((to - from) * i) / ticks });
    }
    this.wait(seconds);
  }

  until(done: () => boolean, longestS: number): void {
    for (let waited = 0; !done(); waited += 1) {
      if (waited > longestS) throw new Error("the session waits for something that does not come");
      this.wait(1);
    }
  }

  press(): void {
    this.move("pedal", 0, 1, PRESS.downS);
    this.wait(PRESS.holdS);
    this.move("pedal", 1, 0, PRESS.upS);
    this.wait(PRESS.restS);
  }

  startEngine(rpm: number): void {
    this.set("key", 1);
    this.wait(1);
    this.set("starter", 1);
    this.wait(1.2);
    this.set("starter", 0);
    this.wait(2);
    this.set("throttle", rpm);
  }

  finish(title: string): Session {
    return { title, start: this.start, log: this.log, ticks: this.run.tick };
  }
}

/** Controls that hold the springs off, and that a fall of pressure throws out again. */
function holds(subject: BenchSubject): string[] {
  return ["parking", "trailerSupply"].filter((id) => subject.model.controls.some((c) => c.id === id));
}

const loaded = (driver: Driver): boolean => driver.value("mode.governor.loaded") === 1;

/** Full presses until every control that can has popped. */
function fanDown(driver: Driver, controls: readonly string[]): void {
  for (let presses = 0; controls.some((id) => driver.value(`control.${id}`) === 1); presses++) {
    if (presses > MOST_PRESSES) throw new Error("the controls do not pop");
    driver.press();
  }
}

/** Presses with the engine running until the compressor cuts in, then up to cut-out again. */
function governorTest(driver: Driver): void {
  for (let presses = 0; !loaded(driver); presses++) {
    if (presses > MOST_PRESSES) throw new Error("the compressor does not cut in");
    driver.press();
  }
  driver.until(() => !loaded(driver), 600);
}

/**
 * The whole in-cab check as a real one goes: the morning's low tanks built up at idle to cut-out, cut-in and cut-out watched, engine off,
 * springs released and the released leak watched for a minute, full pedal held for a minute, fanned down by full presses past the warning
 * until the controls pop, built up again, brakes tried and parked. The park tug, which needs motion, is left out.
 */
export function inCabCheck(subject: BenchSubject): Session {
  const { assembly } = subject;
  const idle = assembly.speedsRpm?.idle ?? 0;
  const start = assembly.start({ otherTanksPa: 35 * PSI, parking: "out", trailerSupply: "out", chocks: 1 });
  const driver = new Driver(subject, start);
  driver.wait(3);
  driver.startEngine(idle);
  driver.until(() => !loaded(driver), 900);
  driver.wait(10);
  governorTest(driver);
  driver.wait(20);
  driver.set("key", 0);
  driver.wait(4);
  driver.set("key", 1);
  for (const control of holds(subject)) driver.set(control, 1);
  driver.wait(SETTLE_S + MINUTE_S);
  driver.move("pedal", 0, 1, 0.5);
  driver.wait(SETTLE_S + MINUTE_S);
  driver.move("pedal", 1, 0, 0.5);
  driver.wait(5);
  fanDown(driver, holds(subject));
  driver.wait(5);
  driver.startEngine(idle);
  driver.until(() => !loaded(driver), 900);
  driver.wait(10);
  for (const control of holds(subject)) driver.set(control, 1);
  driver.wait(5);
  driver.press();
  driver.press();
  for (const control of holds(subject)) driver.set(control, 0);
  driver.wait(10);
  return driver.finish("in-cab check");
}

/** The stiff part in short: a low vehicle fanned down until its controls pop. Finds the step that plain RK4 can take. */
export function shortFan(subject: BenchSubject): Session {
  const start = subject.assembly.start({
    otherTanksPa: 70 * PSI,
    parking: "in",
    trailerSupply: "in",
    key: 1,
    loaded: false,
  });
  const driver = new Driver(subject, start);
  driver.wait(1);
  fanDown(driver, holds(subject));
  driver.wait(2);
  return driver.finish("short fan-down");
}
