import type { Network, Signal } from "@brakeyard/engine";
import { oneOf } from "../text/problem.ts";
import { AssemblyError, type FaultKind, type FaultSpec } from "./options.ts";

/** A fault found in the vehicle: the control that brings it on, and the value it takes then. */
export interface FaultHandle {
  readonly name: string;
  readonly control: string;
  readonly value: number;
}

type Of<K extends FaultKind> = Extract<FaultSpec, { kind: K }>;

/**
 * Faults asked for, handed out to the parts they belong to. Each becomes a control `fault.NAME`, 0 until its onset. At the end
 * none may be left over.
 */
export class FaultBoard {
  private readonly left: Set<FaultSpec>;
  private readonly places = new Map<FaultKind, string[]>();
  readonly handles: FaultHandle[] = [];

  constructor(
    private readonly net: Network,
    specs: readonly FaultSpec[],
  ) {
    this.left = new Set(specs);
    const names = specs.map((spec) => spec.name);
    for (const name of names) {
      if (names.indexOf(name) < names.lastIndexOf(name)) {
        throw new AssemblyError(name, `two faults are called "${name}"`, "give each a name of its own");
      }
    }
  }

  /** The fault of this kind asked for at this place, with the signal that brings it on. */
  find<K extends FaultKind>(kind: K, where?: string): { spec: Of<K>; signal: Signal } | undefined {
    const found = this.take(kind, where)[0];
    return found && { spec: found, signal: this.declare(found) };
  }

  /** Just the signal. */
  signal(kind: FaultKind, where?: string): Signal | undefined {
    return this.find(kind, where)?.signal;
  }

  /** All faults of this kind at this place. */
  all<K extends FaultKind>(kind: K, where?: string): { spec: Of<K>; signal: Signal }[] {
    return this.take(kind, where, true).map((spec) => ({ spec, signal: this.declare(spec) }));
  }

  /** A fault whose effect is a control that the vehicle has anyway, such as a coupling that parts. */
  byControl(kind: FaultKind, control: string): void {
    for (const spec of this.take(kind, undefined)) this.handles.push({ name: spec.name, control, value: 1 });
  }

  private take<K extends FaultKind>(kind: K, where: string | undefined, many = false): Of<K>[] {
    if (where !== undefined) this.places.set(kind, [...(this.places.get(kind) ?? []), where]);
    else if (!this.places.has(kind)) this.places.set(kind, []);
    const fits = [...this.left].filter(
      (spec) => spec.kind === kind && ("where" in spec ? spec.where : undefined) === where,
    );
    const taken = many ? fits : fits.slice(0, 1);
    for (const spec of taken) this.left.delete(spec);
    return taken as Of<K>[];
  }

  private declare(spec: FaultSpec): Signal {
    const control = `fault.${spec.name}`;
    this.handles.push({ name: spec.name, control, value: 1 });
    return this.net.control({ id: control, kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0] as Signal;
  }

  /** @throws AssemblyError naming a fault that belongs to no part of this vehicle */
  finish(): void {
    for (const spec of this.left) {
      const places = this.places.get(spec.kind);
      if (!places)
        throw new AssemblyError(
          spec.name,
          `this vehicle has nothing that ${spec.kind} can happen to`,
          "leave the fault out",
        );
      const where = "where" in spec ? spec.where : "this vehicle";
      const rest = places.includes(where) || places.length === 0;
      const message = rest ? `there is already such a fault at ${where}` : `${spec.kind}: there is no "${where}" here`;
      throw new AssemblyError(spec.name, message, rest ? "leave one of them out" : `write ${oneOf(places)}`);
    }
  }
}
