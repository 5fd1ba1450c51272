import { text } from "../text/text.ts";
import type { Schematic, SchematicPart } from "./schematic.ts";

/** The name of a part on the sheet: its kind in the trade's word; tanks, loads and axles by their own title. */
export function nameOf(part: SchematicPart, schematic: Schematic): string {
  if (part.kind === "relayValve" || part.kind === "trailerRelay") return relayName(part, schematic);
  if (part.kind === "reservoir") return tankName(part);
  if (part.kind === "quickRelease" && part.circuit === "parking") return text.picture.parts.springQuickRelease!;
  if (part.kind === "governor") return part.label;
  return text.picture.parts[part.kind] ?? part.label;
}

/** Without what stands in brackets; a trailer's tank says that it is one. */
export function tankName(part: SchematicPart): string {
  const name = part.label.replace(/\s*\(.*\)$/, "");
  return part.unit === "trailer" && !/trailer/i.test(name) ? text.picture.trailerTank(name) : name;
}

/** A relay is called by the axle it works, or by the springs. */
function relayName(part: SchematicPart, schematic: Schematic): string {
  if (part.circuit === "parking") return text.picture.parts.springRelay!;
  if (part.unit === "trailer") return text.picture.parts.trailerRelay!;
  const wheel = schematic.parts.find((p) => p.kind === "serviceChamber" && p.axle === part.axle && p.side === "left");
  const axle = wheel?.label.replace(/ left$/, "");
  return axle ? text.picture.axleRelay(axle) : text.picture.parts.relayValve!;
}
