import type { Roles } from "./roles.ts";
import type { Sheet } from "./sheet.ts";

/** Whatever no rule has placed goes near the parts it is joined to. */
export function placeRest(sheet: Sheet, roles: Roles): void {
  let left = roles.schematic.parts.filter((p) => !sheet.has(p.id));
  while (left.length > 0) {
    const next = left.find((p) => placedNeighbours(sheet, roles, p.id).length > 0) ?? left[0]!;
    const near = placedNeighbours(sheet, roles, next.id);
    const x =
      near.length > 0 ? near.reduce((sum, n) => sum + n.box.x + n.box.w / 2, 0) / near.length : sheet.widthPx / 2;
    const y =
      near.length > 0 ? near.reduce((sum, n) => sum + n.box.y + n.box.h / 2, 0) / near.length : sheet.heightPx / 2;
    sheet.putNear(next, x, y, { square: 24 });
    left = left.filter((p) => p !== next);
  }
}

function placedNeighbours(sheet: Sheet, roles: Roles, id: string) {
  return (roles.neighbours.get(id) ?? []).map((n) => sheet.of(n)).filter((p) => p !== undefined);
}
