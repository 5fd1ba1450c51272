import type { Schematic, SchematicLine, SchematicPart } from "./schematic.ts";

/**
 * The schematic with what every drawing of an air system shows although it needs no words in the file: the pipe from the
 * compressor through the dryer, the unloader line of the governor, safety valves and drain cocks on their tanks.
 */
export function completed(schematic: Schematic): Schematic {
  const parts = [...schematic.parts.filter((p) => p.kind !== "junction"), ...drains(schematic)];
  const added = [
    ...sourcePipes(schematic),
    ...unloaderLines(schematic),
    ...safetyPipes(schematic),
    ...drainPipes(schematic),
  ];
  return { parts, lines: withoutJunctions(schematic, [...schematic.lines, ...added]) };
}

/** A junction is no part: what leaves it leaves the part that feeds it. */
function withoutJunctions(schematic: Schematic, lines: readonly SchematicLine[]): SchematicLine[] {
  const junctions = new Set(schematic.parts.filter((p) => p.kind === "junction").map((p) => p.id));
  const feeders = new Map(lines.filter((l) => junctions.has(l.to.part)).map((l) => [l.to.part, l]));
  return lines
    .filter((l) => !junctions.has(l.to.part))
    .map((l) => {
      const feeder = feeders.get(l.from.part);
      if (!feeder) return l;
      const pipes = lines.filter((o) => o.from.part === l.from.part && o.role === "pipe");
      const flow = l.flow ?? (l.role === "pipe" && pipes.length === 1 ? feeder.flow : undefined);
      return { ...l, from: feeder.from, ...(flow && { flow }) };
    });
}

const drainId = (tank: SchematicPart) => `drain.${tank.id}`;

function drainable(schematic: Schematic): SchematicPart[] {
  return schematic.parts.filter(
    (p) => p.kind === "reservoir" && p.channels.drain && !schematic.parts.some((d) => d.id === drainId(p)),
  );
}

function drains(schematic: Schematic): SchematicPart[] {
  return drainable(schematic).map((tank) => ({
    id: drainId(tank),
    kind: "drain",
    label: "",
    circuit: tank.circuit,
    unit: tank.unit,
    ports: {},
    channels: { position: tank.channels.drain! },
    facts: {},
  }));
}

function drainPipes(schematic: Schematic): SchematicLine[] {
  return drainable(schematic).map((tank) => pipe(tank, "2", { id: drainId(tank) }, "1"));
}

/** A safety valve stands on the tank whose pressure it feels. */
function safetyPipes(schematic: Schematic): SchematicLine[] {
  return schematic.parts
    .filter((p) => p.kind === "safetyValve" && !schematic.lines.some((l) => l.to.part === p.id))
    .flatMap((valve) => {
      const tank = sharing(schematic, valve, "1", ["reservoir"]);
      return tank ? [pipe(tank, "2", valve, "1")] : [];
    });
}

function pipe(
  from: SchematicPart,
  fromPort: string,
  to: { id: string },
  toPort: string,
  extra: Partial<SchematicLine> = {},
): SchematicLine {
  return {
    id: `${from.id}.${fromPort}-${to.id}.${toPort}`,
    from: { part: from.id, port: fromPort },
    to: { part: to.id, port: toPort },
    circuit: from.circuit,
    role: "pipe",
    ...extra,
  };
}

/** The part, other than `self`, that shows the same pressure at one of its ports as `self` does at `port`. */
function sharing(
  schematic: Schematic,
  self: SchematicPart,
  port: string,
  kinds: readonly string[],
): SchematicPart | undefined {
  const node = self.ports[port]?.pressure;
  if (node === undefined) return undefined;
  return schematic.parts.find(
    (p) => kinds.includes(p.kind) && p !== self && Object.values(p.ports).some((q) => q.pressure === node),
  );
}

function sourcePipes(schematic: Schematic): SchematicLine[] {
  const lines: SchematicLine[] = [];
  const joined = (id: string) => schematic.lines.some((l) => l.from.part === id);
  const dryer = schematic.parts.find((p) => p.kind === "dryer");
  for (const compressor of schematic.parts.filter((p) => p.kind === "compressor" || p.kind === "electricCompressor")) {
    if (joined(compressor.id)) continue;
    const next = dryer ?? sharing(schematic, compressor, "2", ["reservoir", "junction"]);
    if (next) lines.push(pipe(compressor, "2", next, "1", flowOf(compressor)));
  }
  if (dryer && !joined(dryer.id)) {
    const next = sharing(schematic, dryer, "21", ["reservoir", "junction"]);
    if (next) lines.push(pipe(dryer, "21", next, "1", flowOf(dryer)));
  }
  return lines;
}

function flowOf(part: SchematicPart): Partial<SchematicLine> {
  const pressure = part.ports["2"]?.pressure ?? part.ports["21"]?.pressure;
  return { ...(part.channels.flow && { flow: part.channels.flow }), ...(pressure && { pressure }) };
}

/** An engine-driven compressor is unloaded, and the dryer purged, through the governor's outlet. */
function unloaderLines(schematic: Schematic): SchematicLine[] {
  const governor = schematic.parts.find((p) => p.kind === "governor");
  if (!governor || schematic.lines.some((l) => l.from.part === governor.id)) return [];
  return schematic.parts
    .filter((p) => p.kind === "compressor" || p.kind === "dryer")
    .map((p) => pipe(governor, "2", p, "4", { role: "signal" }));
}
