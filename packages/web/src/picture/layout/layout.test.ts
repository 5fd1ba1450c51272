import { describe, expect, it } from "vitest";
import { fleetList, openVehicle } from "../../live/openVehicle.ts";
import { completed } from "../complete.ts";
import type { Schematic } from "../schematic.ts";
import { type Box, grown, inside, overlaps, runBox } from "./geometry.ts";
import { layoutOf } from "./layout.ts";
import type { Layout, Pipe } from "./types.ts";

/** Room of the drawing on a 1366 x 768, a 1024 x 768 and a 390 x 844 window. */
const ROOMS = [
  [1320, 378],
  [978, 378],
  [390, 480],
] as const;

function schematicOf(id: string): Schematic {
  const result = openVehicle({ from: "fleet", id });
  if (!result.ok) throw new Error("the fleet opens");
  return result.info.schematic;
}

const runs = (pipe: Pipe): Box[] => pipe.points.slice(1).map((b, i) => runBox(pipe.points[i]!, b, 2));

/** Every pair of a list. */
function pairs<T>(list: readonly T[]): [T, T][] {
  return list.flatMap((a, i) => list.slice(i + 1).map((b): [T, T] => [a, b]));
}

function faultsOf(layout: Layout): string[] {
  const page = { x: 0, y: 0, w: layout.widthPx, h: layout.heightPx };
  const faults = [...layout.problems];
  for (const placed of layout.placed) if (!inside(placed.box, page)) faults.push(`${placed.id} leaves the sheet`);
  for (const text of layout.texts) if (!inside(text, page)) faults.push(`text ${text.id} leaves the sheet`);
  for (const [a, b] of pairs(layout.placed)) if (overlaps(a.box, b.box)) faults.push(`${a.id} lies on ${b.id}`);
  for (const [a, b] of pairs(layout.texts)) if (overlaps(a, b)) faults.push(`text ${a.id} lies on ${b.id}`);
  for (const text of layout.texts) {
    for (const placed of layout.placed)
      if (overlaps(text, placed.box)) faults.push(`text ${text.id} lies on ${placed.id}`);
    for (const pipe of layout.pipes)
      if (runs(pipe).some((run) => overlaps(run, text))) faults.push(`pipe ${pipe.id} runs through ${text.id}`);
  }
  return [...faults, ...crossedSymbols(layout)];
}

/** A pipe may touch a symbol only where it ends on one of its ports. */
function crossedSymbols(layout: Layout): string[] {
  const faults: string[] = [];
  for (const pipe of layout.pipes) {
    const boxes = runs(pipe);
    layout.placed.forEach((placed) => {
      boxes.forEach((run, i) => {
        const end = i === 0 || i === boxes.length - 1;
        if (overlaps(run, grown(placed.box, -1)) && !(end && endsOn(pipe, placed.box)))
          faults.push(`pipe ${pipe.id} crosses ${placed.id}`);
      });
    });
  }
  return faults;
}

function endsOn(pipe: Pipe, box: Box): boolean {
  return [pipe.points[0]!, pipe.points.at(-1)!].some((p) => overlaps({ x: p.x - 1, y: p.y - 1, w: 2, h: 2 }, box));
}

describe("the layout", () => {
  for (const { id } of fleetList()) {
    for (const [w, h] of ROOMS) {
      it(`keeps texts, symbols and pipes apart: ${id} at ${w} x ${h}`, () => {
        expect(faultsOf(layoutOf(schematicOf(id), w, h))).toEqual([]);
      });
    }
  }

  it("draws every part and lets every line carry its flow", () => {
    for (const { id } of fleetList()) {
      const schematic = completed(schematicOf(id));
      const layout = layoutOf(schematicOf(id), 1320, 378);
      const drawn = new Set(layout.placed.flatMap((p) => p.parts));
      expect(schematic.parts.filter((p) => !drawn.has(p.id)).map((p) => p.id)).toEqual([]);
      const carried = new Set(layout.pipes.flatMap((p) => p.flows.map((f) => f.line)));
      const idle = schematic.lines.filter((l) => l.flow && !carried.has(l.id)).map((l) => l.id);
      expect(idle.filter((line) => !/drain|safetyValve|lowAirSwitch/.test(line))).toEqual([]);
    }
  });

  it("comes out the same every time", () => {
    const schematic = schematicOf(fleetList()[0]!.id);
    expect(layoutOf(schematic, 1320, 378)).toEqual(layoutOf(schematic, 1320, 378));
  });
});

describe("the checks of the layout", () => {
  const sound = () => layoutOf(schematicOf(fleetList()[0]!.id), 1320, 378);

  it("see a text that is pushed onto another", () => {
    const layout = sound();
    const [a, b] = layout.texts;
    layout.texts[0] = { ...a!, x: b!.x, y: b!.y };
    expect(faultsOf(layout).join()).toContain("lies on");
  });

  it("see a symbol that is pushed into a pipe", () => {
    const layout = sound();
    const pipe = layout.pipes.find((p) => p.points.length > 4)!;
    const at = pipe.points[2]!;
    layout.placed[0] = { ...layout.placed[0]!, box: { x: at.x - 20, y: at.y - 20, w: 40, h: 40 } };
    expect(faultsOf(layout).join()).toContain("crosses");
  });
});
