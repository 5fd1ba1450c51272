import type { Choice, Quantity } from "../values/resolved.ts";
import type { Circuit, PartKind, Schematic, SchematicFact, SchematicLine, SchematicPart } from "./schematic.ts";

/** A part as it is put on the sheet: ports by the node whose pressure they show. */
export interface SheetPart {
  readonly id: string;
  readonly kind: PartKind;
  readonly label: string;
  readonly circuit: Circuit;
  readonly axle?: string;
  readonly side?: "left" | "right";
  readonly ports: Readonly<Record<string, string | undefined>>;
  readonly channels: Readonly<Record<string, string>>;
  readonly facts: Readonly<Record<string, Quantity | Choice | undefined>>;
}

interface From {
  readonly node: string;
  readonly part: string;
  readonly number: string;
  readonly circuit: Circuit;
}

interface LineOptions {
  readonly flow?: string;
  readonly role?: "pipe" | "signal";
  readonly circuit?: Circuit;
}

/** Collects the picture while the model is put together. */
export class Sheet {
  private readonly parts: SchematicPart[] = [];
  private readonly lines: SchematicLine[] = [];
  private unit: "power" | "trailer" = "power";

  /** Parts put on the sheet from now on belong to this unit. */
  turnTo(unit: "power" | "trailer"): void {
    this.unit = unit;
  }

  part(given: SheetPart): void {
    const ports = Object.entries(given.ports).map(([number, node]) => [
      number,
      node === undefined ? {} : { pressure: `pressure.${node}` },
    ]);
    const facts = Object.entries(given.facts).flatMap(([name, value]) => (value ? [[name, fact(value)]] : []));
    this.parts.push({ ...given, unit: this.unit, ports: Object.fromEntries(ports), facts: Object.fromEntries(facts) });
  }

  /** A pipe or signal from where air is taken to a port of a part. */
  join(from: From, to: { part: string; port: string }, options: LineOptions = {}): void {
    const { flow, role = "pipe", circuit = from.circuit } = options;
    this.lines.push({
      id: `${from.part}.${from.number}-${to.part}.${to.port}`,
      from: { part: from.part, port: from.number },
      to,
      circuit,
      role,
      pressure: `pressure.${from.node}`,
      ...(flow !== undefined && { flow }),
    });
  }

  finish(): Schematic {
    return { parts: this.parts, lines: this.lines };
  }
}

function fact(value: Quantity | Choice): SchematicFact {
  const text = "si" in value ? `${value.written}${value.unit === "1" ? "" : ` ${value.unit}`}` : value.value;
  return { text, typical: value.from === "typical" };
}
