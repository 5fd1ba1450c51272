import { type Balance, makePlan, type Plan, PSI } from "@brakeyard/engine";
import {
  type AssembleOptions,
  type Assembly,
  assemble,
  type CompletePower,
  type CompleteVehicle,
  type StartRequest,
  type Subject,
} from "@brakeyard/vehicle";
import { Rig } from "../src/rig.ts";
import { vehicle, vehicleText } from "../src/yard.ts";
import { IN } from "./kinds.ts";

/** Raw JSON of a vehicle file, or a part of it. */
export interface Raw {
  [key: string]: Raw;
}

/** Changes a vehicle file in place before it is loaded. */
export type Edit = (file: Raw) => void;

export interface Setup extends AssembleOptions {
  readonly start?: StartRequest;
  /** Changes the file of the power unit first: another valve fitted, another size. */
  readonly edit?: Edit;
  readonly editTrailer?: Edit;
}

/** A vehicle id, or tractor and trailer. */
export type Who = string | { readonly tractor: string; readonly trailer: string };

/** Brings a vehicle into the yard. The checks take one as an argument, so that a test can hand them a yard with something wrong in it. */
export type Yard = (who: Who, setup?: Setup) => VehicleRig;

/** A vehicle put together, and the set-up of a run of it, which runs can share. */
interface Ready {
  readonly subject: Subject;
  readonly assembly: Assembly;
  readonly plan: Plan;
}

/** So many vehicles stay ready: those that the clauses of one statement take turns with. */
const KEPT = 12;
const kept = new Map<string, Ready>();

/** The yard as it should be: vehicle file, loader, assembly and engine of the product. */
export const honestYard: Yard = (who, setup = {}) => {
  const { start, edit, editTrailer, ...options } = setup;
  const files = typeof who === "string" ? [text(who, edit)] : [text(who.tractor, edit), text(who.trailer, editTrailer)];
  const key = JSON.stringify([files, options]);
  const ready = kept.get(key) ?? make(who, setup, options);
  kept.delete(key);
  kept.set(key, ready);
  for (const oldest of [...kept.keys()].slice(0, -KEPT)) kept.delete(oldest);
  return new VehicleRig(ready, start ?? {});
};

function make(who: Who, { edit, editTrailer }: Setup, options: AssembleOptions): Ready {
  const subject: Subject =
    typeof who === "string"
      ? { vehicle: vehicle(who, edit) }
      : { tractor: vehicle(who.tractor, edit), trailer: vehicle(who.trailer, editTrailer) };
  const assembly = assemble(subject, options);
  return { subject, assembly, plan: makePlan(assembly.model) };
}

function text(id: string, edit: Edit | undefined): string {
  if (!edit) return id;
  const file = JSON.parse(vehicleText(id)) as Raw;
  edit(file);
  return JSON.stringify(file);
}

/**
 * Every tank at a pressure, the supply tank 1 psi higher, as build-up through the check valves leaves it; parking brake released. With the
 * engine off the governor has cut out before, so that the dryer has purged and its volume holds nothing.
 */
export function builtUp(psi: number, more: StartRequest = {}): StartRequest {
  const tanks = { supply: { gaugePa: (psi + 1) * PSI } };
  const loaded = (more.engineRpm ?? 0) > 0;
  return { tanks, otherTanksPa: psi * PSI, parking: "in", loaded, ...more };
}

/** Free strokes of a two-axle bus, in. */
export function freeStrokes(frontIn: number, rearIn: number): Record<string, number> {
  const [front, rear] = [frontIn * IN, rearIn * IN];
  return { "front.left": front, "front.right": front, "rear.left": rear, "rear.right": rear };
}

/** So long that any press takes each rod of a two-axle bus to the end of its chamber. */
export const AT_THE_END = freeStrokes(2.2, 2.45);

/** A trailer whose file says that no chamber has a power spring, so that it has an emergency valve. */
export const withoutTrailerSprings: Edit = (file) => {
  for (const axle of Object.values(file["axles"]!)) {
    Object.assign(axle["brakes"]!, { springType: { value: "none", from: "plate" } });
  }
};

/** A vehicle whose file says that it has no anti-compounding. */
export const withoutAntiCompounding: Edit = (file) => {
  Object.assign(file["air"]!["parking"]!["springs"]!, { antiCompounding: { value: "no", from: "plate" } });
};

/** A vehicle that stands in the yard with someone at the controls. */
export class VehicleRig extends Rig {
  readonly assembly: Assembly;
  /** The power unit. */
  readonly vehicle: CompleteVehicle;
  readonly power: CompletePower;

  constructor({ assembly, subject, plan }: Ready, start: StartRequest) {
    const options = { start: assembly.start(start), plan };
    super(assembly.model, options);
    this.assembly = assembly;
    const power = "vehicle" in subject ? subject.vehicle : "tractor" in subject ? subject.tractor : undefined;
    if (!power?.air?.power) throw new Error("the expert's vehicles drive themselves");
    this.vehicle = power;
    this.power = power.air.power;
  }

  override wait(seconds: number): this {
    super.wait(seconds);
    return this;
  }

  /** Brings on a fault by its name. */
  break(name: string): this {
    const fault = this.assembly.faults.find((one) => one.name === name);
    if (!fault) throw new Error(`no fault "${name}" was prepared`);
    return this.set(fault.control, fault.value);
  }

  /** Travel of the pedal that asks for a delivery, on the straight part of the graduating spring. */
  travelFor(psi: number): number {
    const { freeTravel, fullTravel, crack, graduatedTo } = this.power.foot.values;
    const first = freeTravel.si + 0.005;
    return first + ((psi * PSI - crack.si) / (graduatedTo.si - crack.si)) * (fullTravel.si - first);
  }

  /** Sets the pedal, 0..1. */
  pedal(travel: number): this {
    return this.set("pedal", travel);
  }

  /** Presses, holds, lets go, waits. */
  press(travel: number, holdS: number, afterS: number): this {
    return this.pedal(travel).wait(holdS).pedal(0).wait(afterS);
  }

  /** Gauge reading, psi. */
  gauge(id: string): number {
    return this.value(`gauge.${id}`) / PSI;
  }

  /** Absolute pressure of a node, psi. */
  absolutePsi(node: string): number {
    return this.psi(node) + this.model.atmosphere.pressurePa / PSI;
  }

  on(channel: string): boolean {
    return this.value(channel) > 0.5;
  }

  get balance(): Balance {
    return this.run.balance();
  }
}
