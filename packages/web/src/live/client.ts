import { batch, signal } from "@preact/signals";
import type {
  FleetEntry,
  FromWorker,
  Line,
  LiveEvent,
  OpenVehicle,
  Problem,
  ToWorker,
  VehicleSource,
} from "./contract.ts";
import { Instruments } from "./instruments.ts";

/** A vehicle file that was not taken. */
export interface Refusal {
  name: string;
  problems: Problem[];
}

type FrameMessage = Extract<FromWorker, { type: "frame" }>;

/** The page's end of the line to the worker: what is open, the latest frame, and the actions on it. */
export class LiveClient {
  readonly vehicle = signal<OpenVehicle | null>(null);
  readonly fleet = signal<FleetEntry[]>([]);
  readonly refusal = signal<Refusal | null>(null);
  readonly pace = signal(1);
  readonly tick = signal(0);
  readonly stopped = signal<string | null>(null);
  /** Counts vehicles opened and runs reset. */
  readonly opened = signal(0);
  readonly failure = signal<string | null>(null);
  /** Values that people have set, by control. A control may have moved by itself since: its channel says. */
  readonly set = signal<Readonly<Record<string, number>>>({});
  readonly instruments = new Instruments();
  onEvents: ((events: readonly LiveEvent[]) => void) | null = null;
  onRows: ((rows: Float64Array) => void) | null = null;
  onControl: ((control: string, value: number) => void) | null = null;
  onOpened: (() => void) | null = null;
  onRunSaved: ((name: string, text: string) => void) | null = null;
  private readonly line: Line<ToWorker, FromWorker>;
  private lastMs = 0;
  private owedMs = 0;
  private waiting = false;
  private latest: FrameMessage | null = null;

  constructor(line: Line<ToWorker, FromWorker>) {
    this.line = line;
    line.onmessage = (event) => this.receive(event.data);
  }

  open(source: VehicleSource): void {
    this.line.postMessage({ type: "open", source });
  }

  reset(): void {
    this.line.postMessage({ type: "reset" });
  }

  control(control: string, value: number): void {
    if (!this.vehicle.value?.controls.some((c) => c.id === control)) return;
    this.set.value = { ...this.set.value, [control]: value };
    this.onControl?.(control, value);
    this.line.postMessage({ type: "control", control, value });
  }

  setPace(pace: number): void {
    this.pace.value = pace;
    this.line.postMessage({ type: "pace", pace });
  }

  oneTick(): void {
    this.setPace(0);
    this.line.postMessage({ type: "tick" });
  }

  saveRun(): void {
    this.line.postMessage({ type: "saveRun" });
  }

  /** Draws the latest frame and asks for the next. Call once for each animation frame. */
  animate(nowMs: number): void {
    this.owedMs += this.lastMs === 0 ? 0 : nowMs - this.lastMs;
    this.lastMs = nowMs;
    const frame = this.latest;
    this.latest = null;
    if (frame) this.draw(frame);
    if (this.waiting || !this.vehicle.value) return;
    this.waiting = true;
    this.line.postMessage({ type: "frame", elapsedMs: this.owedMs });
    this.owedMs = 0;
  }

  /** The page was hidden: no time has passed for the model. */
  forgetElapsed(): void {
    this.lastMs = 0;
    this.owedMs = 0;
  }

  private draw(frame: FrameMessage): void {
    this.tick.value = frame.tick;
    this.stopped.value = frame.stopped;
    this.instruments.draw(frame.values, frame.tick);
    if (frame.rows.length > 0) this.onRows?.(frame.rows);
    if (frame.events.length > 0) this.onEvents?.(frame.events);
  }

  private receive(message: FromWorker): void {
    switch (message.type) {
      case "fleet":
        this.fleet.value = message.fleet;
        break;
      case "opened":
        this.takeVehicle(message.vehicle);
        break;
      case "refused":
        this.refusal.value = { name: message.name, problems: message.problems };
        break;
      case "frame":
        this.waiting = false;
        this.latest = message;
        break;
      case "runSaved":
        this.onRunSaved?.(message.name, message.text);
        break;
    }
  }

  /** The worker itself broke. */
  fail(why: string): void {
    this.failure.value = why;
  }

  private takeVehicle(vehicle: OpenVehicle): void {
    this.waiting = false;
    this.latest = null;
    this.refusal.value = null;
    this.set.value = Object.fromEntries(vehicle.controls.map((c) => [c.id, c.start]));
    this.instruments.open(vehicle.channels.map((c) => c.id));
    this.onOpened?.();
    batch(() => {
      this.stopped.value = null;
      this.opened.value += 1;
      this.vehicle.value = vehicle;
    });
  }
}
