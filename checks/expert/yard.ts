import { type Balance, PSI } from "@brakeyard/engine";
import {
  type AssembleOptions,
  type Assembly,
  assemble,
  type CompletePower,
  type CompleteVehicle,
  completeVehicle,
  fleet,
  loadVehicle,
  type StartRequest,
  type Subject,
} from "@brakeyard/vehicle";
import { Rig } from "../src/rig.ts";
import busA from "../vehicles/bus-a.json" with { type: "json" };
import combinationTractor from "../vehicles/combination-c-tractor.json" with { type: "json" };
import combinationTrailer from "../vehicles/combination-c-trailer.json" with { type: "json" };
import legalMinimumBus from "../vehicles/legal-minimum-bus.json" with { type: "json" };
import { IN } from "./kinds.ts";

/** Vehicle files by id: the demo fleet and the reference vehicles. */
const FILES: ReadonlyMap<string, string> = new Map([
  ...fleet.map((one): [string, string] => [one.id, one.vehicle()]),
  ...[busA, legalMinimumBus, combinationTractor, combinationTrailer].map((one): [string, string] => [
    one.id,
    JSON.stringify(one),
  ]),
]);

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

/** The yard as it should be: vehicle file, loader, assembly and engine of the product. */
export const honestYard: Yard = (who, setup = {}) => {
  const subject = typeof who === "string" ? { vehicle: load(who, setup.edit) } : coupled(who, setup);
  return new VehicleRig(assemble(subject, setup), subject, setup.start ?? {});
};

function coupled(who: { tractor: string; trailer: string }, { edit, editTrailer }: Setup): Subject {
  return { tractor: load(who.tractor, edit), trailer: load(who.trailer, editTrailer) };
}

function load(id: string, edit: Edit | undefined): CompleteVehicle {
  const text = FILES.get(id);
  if (text === undefined) throw new Error(`no vehicle file "${id}"`);
  const file = JSON.parse(text) as Raw;
  edit?.(file);
  const loaded = loadVehicle(JSON.stringify(file));
  if (!loaded.ok) throw new Error(`${id}: ${loaded.problems.map((p) => `${p.path} ${p.message}`).join("; ")}`);
  return completeVehicle(loaded.vehicle);
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

  constructor(assembly: Assembly, subject: Subject, start: StartRequest) {
    super(assembly.model, { start: assembly.start(start) });
    this.assembly = assembly;
    const vehicle = "vehicle" in subject ? subject.vehicle : "tractor" in subject ? subject.tractor : undefined;
    if (!vehicle?.air?.power) throw new Error("the expert's vehicles drive themselves");
    this.vehicle = vehicle;
    this.power = vehicle.air.power;
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
