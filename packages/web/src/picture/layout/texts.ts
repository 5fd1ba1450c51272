import { nameOf } from "../names.ts";
import type { Labels } from "./labels.ts";
import type { Roles } from "./roles.ts";
import type { Sheet } from "./sheet.ts";
import type { Pipe } from "./types.ts";

const NAMED_INSIDE = new Set(["springBrake", "serviceBrake", "drain"]);

/** Names, node figures and port numbers of the sheet. Returns what found no room. */
export function placeTexts(labels: Labels, sheet: Sheet, roles: Roles, pipes: readonly Pipe[], sizePx: number): string[] {
  const problems: string[] = [];
  void pipes;
  for (const placed of sheet.placed) {
    const part = roles.parts.get(placed.id)!;
    if (NAMED_INSIDE.has(placed.shape)) continue;
    if (placed.shape === "reservoir" && placed.box.w > 110) continue;
    const sides = placed.shape === "lowAirSwitch" ? (["r", "b", "t", "l"] as const) : (["b", "t", "r", "l"] as const);
    const extra = placed.shape === "compressor" || placed.shape === "electricCompressor" ? ["unloaded"] : [];
    const ok = labels.place({ id: `name.${part.id}`, owner: part.id, kind: "name", text: nameOf(part, roles.schematic), sizePx, near: placed.box, sides, extra, reachPx: 60 });
    if (!ok) problems.push(`no room for the name of ${part.id}`);
  }
  return problems;
}
