import type { Schematic, SchematicLine, SchematicPart } from "../schematic.ts";

/** The wheel ends of one axle. `wheels` are ordered left, right; each may be made of two chambers. */
export interface AxleEnds {
  axle: string;
  wheels: { side: "left" | "right"; parts: SchematicPart[]; spring: boolean }[];
}

/** What each part is for on the sheet, found from kinds and connections alone. */
export interface Roles {
  schematic: Schematic;
  parts: Map<string, SchematicPart>;
  neighbours: Map<string, string[]>;
  frontAxle: AxleEnds | null;
  rearAxles: AxleEnds[];
  trailerAxles: AxleEnds[];
  supplyTanks: SchematicPart[];
  serviceTanks: SchematicPart[];
  trailerTanks: SchematicPart[];
  /** Whether it has the couplings of a tractor, or a trailer behind them. */
  towing: boolean;
  /** Parts that hang on one tank, with that tank. */
  attached: Map<string, string>;
}

const HANGERS = new Set(["lowAirSwitch", "drain", "safetyValve"]);

export function rolesOf(schematic: Schematic): Roles {
  const parts = new Map(schematic.parts.map((part) => [part.id, part]));
  const neighbours = neighboursOf(schematic.lines);
  const power = axlesOf(schematic.parts.filter((p) => p.unit === "power"));
  const tanks = schematic.parts.filter((p) => p.kind === "reservoir");
  const [first, ...rest] = power;
  const front = first && !first.wheels.some((w) => w.spring) ? first : null;
  return {
    schematic,
    parts,
    neighbours,
    frontAxle: front,
    rearAxles: front ? rest : power,
    trailerAxles: axlesOf(schematic.parts.filter((p) => p.unit === "trailer")),
    supplyTanks: tanks.filter((p) => p.unit === "power" && p.circuit === "supply"),
    serviceTanks: tanks.filter((p) => p.unit === "power" && p.circuit !== "supply"),
    trailerTanks: tanks.filter((p) => p.unit === "trailer"),
    towing: schematic.parts.some((p) => p.kind === "tractorProtection" || p.unit === "trailer"),
    attached: hangersOf(parts, neighbours),
  };
}

function neighboursOf(lines: readonly SchematicLine[]): Map<string, string[]> {
  const map = new Map<string, string[]>();
  const add = (a: string, b: string) => {
    const list = map.get(a) ?? [];
    list.push(b);
    map.set(a, list);
  };
  for (const line of lines) {
    add(line.from.part, line.to.part);
    add(line.to.part, line.from.part);
  }
  return map;
}

const isChamber = (part: SchematicPart) => part.kind === "serviceChamber" || part.kind === "springChamber";

function axlesOf(parts: readonly SchematicPart[]): AxleEnds[] {
  const axles = new Map<string, AxleEnds>();
  for (const part of parts.filter(isChamber)) {
    const id = part.axle ?? part.id;
    const axle = axles.get(id) ?? { axle: id, wheels: [] };
    axles.set(id, axle);
    const side = part.side ?? "left";
    const wheel = axle.wheels.find((w) => w.side === side);
    if (wheel) wheel.parts.push(part);
    else axle.wheels.push({ side, parts: [part], spring: false });
  }
  for (const axle of axles.values()) {
    axle.wheels.sort((a, b) => (a.side < b.side ? -1 : 1));
    for (const wheel of axle.wheels) {
      wheel.spring = wheel.parts.some((p) => p.kind === "springChamber");
      // The service chamber names the wheel end.
      wheel.parts.sort((a, b) => Number(a.kind === "springChamber") - Number(b.kind === "springChamber"));
    }
  }
  return [...axles.values()];
}

/** Switches, drains and safety valves joined to nothing but one tank are drawn on that tank. */
function hangersOf(parts: Map<string, SchematicPart>, neighbours: Map<string, string[]>): Map<string, string> {
  const attached = new Map<string, string>();
  for (const part of parts.values()) {
    if (!HANGERS.has(part.kind)) continue;
    const near = neighbours.get(part.id) ?? [];
    if (near.length === 1 && parts.get(near[0]!)?.kind === "reservoir") attached.set(part.id, near[0]!);
  }
  return attached;
}
