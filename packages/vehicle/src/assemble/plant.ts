import { addDoubleCheckValve, Network, type Port } from "@brakeyard/engine";
import type { CompleteAir } from "../complete/complete.ts";
import { FaultBoard } from "./faultBoard.ts";
import type { AssembleOptions, Surroundings } from "./options.ts";
import type { Circuit } from "./schematic.ts";
import { Sheet } from "./sheet.ts";
import { BODY_M3, valve } from "./sizes.ts";
import type { Rest, StartInput } from "./start.ts";

/** Somewhere air can be taken from: the port, where it is drawn, and what stands there at the start. */
export interface Tap {
  readonly port: Port;
  readonly node: string;
  /** Part and port number in the picture. */
  readonly part: string;
  readonly number: string;
  readonly circuit: Circuit;
  readonly rest: Rest;
  /** Channel of the flow in the pipe that ends here, where a pipe does. */
  readonly flow?: string;
  /** Tanks that a leak here drains. */
  readonly drains: readonly string[];
}

/** 20 C at sea level. */
export const USUAL_SURROUNDINGS: Surroundings = { temperatureK: 293.15, pressurePa: 101325 };

/** The vehicle, or two coupled ones, while they are put together. */
export class Plant {
  readonly net: Network;
  readonly sheet: Sheet;
  readonly faults: FaultBoard;
  readonly surroundings: Surroundings;
  readonly freeStrokesM: Readonly<Record<string, number>>;
  /** Chambers by name, for settings that name one. */
  readonly chambers: string[] = [];
  /** Volumes of tanks, m3, for leaks given as a rate. */
  readonly tankM3 = new Map<string, number>();
  readonly rests = new Map<string, Rest>();
  private readonly taps = new Map<string, Tap>();
  private readonly meetings = new Map<string, Tap>();
  /** Every node by name, for leaks. */
  readonly nodes = new Map<string, { readonly port: Port; readonly drains: readonly string[] }>();

  constructor(options: AssembleOptions) {
    this.surroundings = options.surroundings ?? USUAL_SURROUNDINGS;
    this.net = new Network({ ambient: this.surroundings, isothermal: options.isothermal ?? false });
    this.sheet = new Sheet();
    this.faults = new FaultBoard(this.net, options.faults ?? []);
    this.freeStrokesM = options.freeStrokesM ?? {};
  }

  /** Writes a node down: what it starts at and which tanks a leak there drains. */
  note(node: string, port: Port, rest: Rest, drains: readonly string[]): void {
    this.nodes.set(node, { port, drains });
    this.rests.set(node, rest);
  }

  /** Writes down a node that a component made inside itself. */
  noteInner(node: string, rest: Rest): void {
    this.rests.set(node, rest);
  }

  /** A short stretch of pipe or a valve body. */
  line(node: string, volumeM3: number, rest: Rest, drains: readonly string[]): Port {
    const port = this.net.line(node, { volumeM3 });
    this.note(node, port, rest, drains);
    return port;
  }

  /** Makes a tap known by the name others are fed by. */
  offer(name: string, tap: Tap): Tap {
    this.taps.set(name, tap);
    return tap;
  }

  /** @throws Error for a name that is not there, which the checks have refused before */
  tap(name: string): Tap {
    const found = this.taps.get(name);
    if (!found) throw new Error(`nothing called ${name} gives air`);
    return found;
  }

  /** One supply, or the highest of several through double check valves, made once for all that meet the same way. */
  meet(names: readonly string[], circuit: Circuit, valves: CompleteAir["doubleCheckValves"]): Tap {
    const [first, ...others] = names.map((name) => this.tap(name)) as [Tap, ...Tap[]];
    return others.reduce((so, next) => this.doubleCheck(so, next, circuit, valves), first);
  }

  private doubleCheck(first: Tap, second: Tap, circuit: Circuit, valves: CompleteAir["doubleCheckValves"]): Tap {
    const key = `${first.node}+${second.node}`;
    const made =
      this.meetings.get(key) ??
      this.makeDoubleCheck(`doubleCheck${this.meetings.size + 1}`, first, second, circuit, valves);
    this.meetings.set(key, made);
    return made;
  }

  /** A double check valve with a name. */
  makeDoubleCheck(
    name: string,
    first: Tap,
    second: Tap,
    circuit: Circuit,
    valves: CompleteAir["doubleCheckValves"],
  ): Tap {
    const rest: Rest = (start: StartInput) => Math.max(first.rest(start), second.rest(start));
    const drains = [...new Set([...first.drains, ...second.drains])];
    const outlet = this.line(`${name}.outlet`, 2 * BODY_M3, rest, drains);
    const params = { size: valve(valves.conductance), travelPa: valves.travel.si };
    addDoubleCheckValve(this.net, name, { first: first.port, second: second.port, outlet }, params);
    this.sheet.part({
      id: name,
      kind: "doubleCheck",
      label: "Double check valve",
      circuit,
      ports: { 11: first.node, 12: second.node, 2: `${name}.outlet` },
      channels: { first: `opening.${name}.first`, second: `opening.${name}.second` },
      facts: {},
    });
    this.sheet.join(first, { part: name, port: "11" }, { flow: `flow.${name}.first` });
    this.sheet.join(second, { part: name, port: "12" }, { flow: `flow.${name}.second` });
    return { port: outlet, node: `${name}.outlet`, part: name, number: "2", circuit, rest, drains };
  }
}
