import type { EngineModel } from "@brakeyard/engine";
import { toSi } from "@brakeyard/units";
import {
  type AssembleOptions,
  type Assembly,
  assemble,
  type CompleteVehicle,
  completeVehicle,
  fleet,
  loadVehicle,
  problemText,
  type StartRequest,
  type Subject,
  type Rig as TestRig,
} from "@brakeyard/vehicle";
import busA from "../vehicles/bus-a.json" with { type: "json" };
import tractorC from "../vehicles/combination-c-tractor.json" with { type: "json" };
import trailerC from "../vehicles/combination-c-trailer.json" with { type: "json" };
import defaultBus from "../vehicles/default-bus.json" with { type: "json" };
import legalMinimum from "../vehicles/legal-minimum-bus.json" with { type: "json" };
import truckB from "../vehicles/truck-b.json" with { type: "json" };
import unbraked from "../vehicles/unbraked-control-trailer.json" with { type: "json" };
import { PSI, Rig } from "./rig.ts";

/** The files of checks/vehicles, by their ids; those of the demo fleet come from the product. */
const WRITTEN = [busA, tractorC, trailerC, defaultBus, legalMinimum, truckB, unbraked];

/** Text of a vehicle of checks/vehicles or of the demo fleet. Throws when there is none of that id. */
export function vehicleText(id: string): string {
  const written = WRITTEN.find((file) => file.id === id);
  if (written) return JSON.stringify(written);
  const shown = fleet.find((entry) => entry.id === id);
  if (!shown) throw new Error(`no vehicle is called "${id}"`);
  return shown.vehicle();
}

/** A change to a vehicle file before it is read, as JSON. */
// biome-ignore lint/suspicious/noExplicitAny: a file is changed as a person would in an editor, before anything has judged it
export type Edit = (file: any) => void;

/** A complete vehicle by id, with its file changed first where a case asks for it. */
export function vehicle(id: string, edit?: Edit): CompleteVehicle {
  const file = JSON.parse(vehicleText(id));
  edit?.(file);
  const loaded = loadVehicle(JSON.stringify(file));
  if (!loaded.ok) throw new Error(`${id}: ${problemText(loaded.problems)}`);
  return completeVehicle(loaded.vehicle);
}

export interface YardOptions extends AssembleOptions {
  readonly start?: Omit<StartRequest, "tanks" | "otherTanksPa"> & {
    /** Gauge pressure of every tank not named, psi. */
    readonly psi?: number;
    readonly tanksPsi?: Readonly<Record<string, number>>;
  };
  readonly tolerance?: number;
  /** Makes these tanks so large that they hold their pressure, for cases that hold a reservoir. */
  readonly held?: readonly string[];
}

const HELD_M3 = 1000;

/** A vehicle alone by id, or a tractor and trailer, or a trailer on a rig. */
export type Named =
  | string
  | CompleteVehicle
  | { readonly tractor: string; readonly trailer: string }
  | { readonly trailer: string; readonly rig: TestRig };

function subjectOf(named: Named): Subject {
  if (typeof named === "string") return { vehicle: vehicle(named) };
  if ("file" in named) return { vehicle: named };
  if ("rig" in named) return { trailer: vehicle(named.trailer), rig: named.rig };
  return { tractor: vehicle(named.tractor), trailer: vehicle(named.trailer) };
}

/** A whole vehicle on the rig of these checks. */
export class Yard extends Rig {
  constructor(
    readonly assembly: Assembly,
    model: EngineModel,
    options: YardOptions,
  ) {
    const { psi = 0, tanksPsi = {}, ...rest } = options.start ?? {};
    const tanks = Object.entries(tanksPsi).map(([name, value]) => [name, { gaugePa: value * PSI }]);
    const start = assembly.start({ ...rest, otherTanksPa: psi * PSI, tanks: Object.fromEntries(tanks) });
    super(model, { start, ...(options.tolerance === undefined ? {} : { tolerance: options.tolerance }) });
  }

  /** Pedal travel at which the foot valve graduates to a pressure, psi; half its hysteresis less arrives. */
  travelFor(psi: number): number {
    const [curve] = this.model.controls.find((c) => c.id === "pedal")?.curves ?? [];
    if (!curve) throw new Error("this vehicle has no pedal");
    const wanted = psi * PSI;
    const i = curve.gives.findIndex((given) => given >= wanted);
    const [low, high, from, to] = [curve.gives[i - 1]!, curve.gives[i]!, curve.at[i - 1]!, curve.at[i]!];
    return from + ((to - from) * (wanted - low)) / (high - low);
  }

  /** Full pedal at once, or to a pressure in psi. */
  press(psi?: number): this {
    return this.set("pedal", psi === undefined ? 1 : this.travelFor(psi));
  }

  release(): this {
    return this.set("pedal", 0);
  }

  /** Brings on a fault that the vehicle was assembled with. */
  breakIt(name: string): this {
    const fault = this.assembly.faults.find((one) => one.name === name);
    if (!fault) throw new Error(`the vehicle was not assembled with a fault "${name}"`);
    return this.set(fault.control, fault.value);
  }

  /** Stroke of a chamber's rod, in. */
  strokeIn(chamber: string): number {
    return this.value(`stroke.${chamber}`) / toSi("length", 1, "in");
  }

  /** Force on a chamber's rod, lbf. */
  rodLbf(chamber: string): number {
    return this.value(`rodForce.${chamber}`) / toSi("force", 1, "lbf");
  }
}

/** Puts a vehicle together and stands it in the yard. */
export function yard(named: Named, options: YardOptions = {}): Yard {
  const assembly = assemble(subjectOf(named), options);
  const held = options.held ?? [];
  const { model } = assembly;
  const nodes = model.nodes.map((node) => (held.includes(node.name) ? { ...node, volumeM3: HELD_M3 } : node));
  return new Yard(assembly, held.length > 0 ? { ...model, nodes } : model, options);
}
