/**
 * The one contract between the page and the worker that runs the engine. Everything that passes is plain data. The page
 * asks for each frame and says how much wall time has gone by; the worker turns that into whole ticks. What the page
 * shows, and how often, never changes the run: only controls do, each stamped with its tick and kept in the log.
 */
import type { Schematic } from "../picture/schematic.ts";

export interface FleetEntry {
  id: string;
  title: string;
}

/** Where a vehicle comes from. */
export type VehicleSource =
  | { from: "fleet"; id: string }
  /** Text of one file, or of two that are coupled: a tractor and a trailer. */
  | { from: "file"; name: string; texts: string[] };

export interface ChannelInfo {
  id: string;
  kind: "truth" | "reading";
  unit: string;
}

export interface ControlInfo {
  id: string;
  kind: "ramp" | "step" | "command";
  minimum: number;
  maximum: number;
  /** Value at the start of this run. */
  start: number;
  unit: string;
  /** What positions of the control ask for, piecewise linear, if it says: of the pedal, gauge pressure in Pa. */
  curve?: { at: number[]; gives: number[] };
}

/** What the page needs to know of a vehicle that has been opened. */
export interface OpenVehicle {
  source: VehicleSource;
  title: string;
  /** Values of the file that are typical, of how many in all. */
  typicalValues: number;
  allValues: number;
  notes: string[];
  schematic: Schematic;
  channels: ChannelInfo[];
  controls: ControlInfo[];
  /** Engine speeds that the vehicle's file names, rpm, rising; empty without an engine. */
  engineSpeedsRpm: number[];
  /** Channels of a trace row, in order; a row begins with its tick. */
  traced: string[];
}

export interface Problem {
  path: string;
  message: string;
  remedy: string;
}

export interface LiveEvent {
  timeS: number;
  id: string;
  on: boolean;
  text: string;
}

export type ToWorker =
  | { type: "open"; source: VehicleSource }
  | { type: "reset" }
  | { type: "control"; control: string; value: number }
  /** Model seconds per second of wall time; 0 freezes. */
  | { type: "pace"; pace: number }
  /** One tick on, while frozen. */
  | { type: "tick" }
  /** One animation frame has passed. */
  | { type: "frame"; elapsedMs: number }
  | { type: "saveRun" };

export type FromWorker =
  | { type: "fleet"; fleet: FleetEntry[] }
  | { type: "opened"; vehicle: OpenVehicle }
  /** The file is refused; whatever ran before runs on. */
  | { type: "refused"; name: string; problems: Problem[] }
  | {
      type: "frame";
      tick: number;
      /** All channels, in the order of `OpenVehicle.channels`. */
      values: Float64Array<ArrayBuffer>;
      /** Rows of tick and traced channels since the last frame. */
      rows: Float64Array<ArrayBuffer>;
      events: LiveEvent[];
      /** Set when the run cannot go on, with the reason. */
      stopped: string | null;
    }
  | { type: "runSaved"; name: string; text: string };

/** The part of a worker that both sides need; a test can stand in for it. */
export interface Line<Out, In> {
  postMessage(message: Out, transfer?: Transferable[]): void;
  onmessage: ((event: { data: In }) => void) | null;
}

/** Engine ticks in a second. */
export const TICKS_PER_SECOND = 100;
