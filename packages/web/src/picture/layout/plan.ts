import { nameOf } from "../names.ts";
import { tankWidth } from "../symbols/tankWidth.ts";
import type { Roles } from "./roles.ts";
import { wheelSizes } from "./shapes.ts";
import type { WheelDetail } from "./types.ts";

/** How closely the symbols of a wide sheet are set, and where its blocks begin. */
export interface Plan {
  rear: WheelDetail;
  front: WheelDetail;
  trailer: WheelDetail;
  roomy: boolean;
  square: 24 | 30;
  tankW: number;
  /** Left edges of the blocks, rear of the vehicle to the left. */
  x: {
    trailer: number;
    trailerValves: number;
    joint: number;
    supply: number;
    tanks: number;
    parking: number;
    rear: number;
    foot: number;
    front: number;
  };
  /** Least width that the blocks need. */
  needPx: number;
}

type Closeness = Pick<Plan, "rear" | "front" | "trailer" | "roomy">;

const CLOSENESS: readonly Closeness[] = [
  { rear: "full", front: "full", trailer: "full", roomy: true },
  { rear: "full", front: "medium", trailer: "medium", roomy: true },
  { rear: "medium", front: "medium", trailer: "medium", roomy: true },
  { rear: "medium", front: "medium", trailer: "compact", roomy: false },
  { rear: "compact", front: "medium", trailer: "compact", roomy: false },
  { rear: "compact", front: "compact", trailer: "compact", roomy: false },
];

export const WHEEL_GAP = 24;

/** The roomiest plan that fits the width; the closest one if none does. */
export function planFor(roles: Roles, widthPx: number, heightPx: number): Plan {
  let plan = blocks(roles, CLOSENESS[0]!, widthPx);
  for (const closeness of allowed(roles)) {
    plan = blocks(roles, closeness, widthPx);
    if (plan.needPx <= widthPx) break;
  }
  // A tall valve does not fit between the wheels of a low sheet.
  return heightPx < TALL ? { ...plan, square: 24 } : plan;
}

const TALL = 402;

/** A vehicle with two axles has no need to draw its wheels small. */
function allowed(roles: Roles): readonly Closeness[] {
  const small = roles.towing || roles.rearAxles.length > 1;
  return small ? CLOSENESS : CLOSENESS.filter((c) => c.rear !== "compact");
}

/** Width below which the closest plan does not fit. */
export function leastWidth(roles: Roles): number {
  return blocks(roles, allowed(roles).at(-1)!, 0).needPx;
}

function wheelsWidth(count: number, detail: WheelDetail, spring: boolean): number {
  return count === 0 ? 0 : count * (wheelSizes(detail, spring).w + WHEEL_GAP);
}

function blocks(roles: Roles, c: Closeness, widthPx: number): Plan {
  const joined = roles.trailerAxles.length > 0 || roles.schematic.parts.some((p) => p.kind === "tractorProtection");
  const withTractor = roles.schematic.parts.some((p) => p.unit === "power");
  const hand = roles.schematic.parts.some((p) => p.kind === "handValve" && p.unit === "power");
  const modulating = roles.schematic.parts.some((p) => p.kind === "springBrakeModulatingValve");
  const tankW = Math.max(
    ...roles.serviceTanks.slice(0, 2).map((tank) => tankWidth(nameOf(tank, roles.schematic), c.roomy)),
    0,
  );
  const multi = roles.schematic.parts.some((p) => p.kind === "multiCircuitValve");
  const trailerTank = Math.max(
    ...roles.trailerTanks.map((tank) => tankWidth(nameOf(tank, roles.schematic), false)),
    132,
  );
  const widths = {
    trailer: roles.trailerAxles.length > 0 ? wheelsWidth(roles.trailerAxles.length, c.trailer, true) : 0,
    trailerValves: roles.trailerAxles.length > 0 ? trailerTank + 24 : 0,
    joint: joined ? 108 : 0,
    supply: !withTractor ? 0 : c.roomy ? (multi ? 270 : 306) : 204,
    tanks: withTractor ? tankW + 24 : 0,
    parking: withTractor ? (c.roomy ? 138 : 126) + (hand ? 84 : 0) + (modulating ? 30 : 0) : 0,
    rear: wheelsWidth(roles.rearAxles.length, c.rear, true) + 6,
    foot: withTractor ? (c.roomy ? 102 : 84) + (hand ? 54 : 0) : 0,
    front: roles.frontAxle ? wheelsWidth(1, c.front, false) : 0,
  };
  const margin = 12;
  const names = ["trailer", "trailerValves", "joint", "supply", "tanks", "parking", "rear", "foot", "front"] as const;
  const needPx = names.reduce((sum, name) => sum + widths[name], 2 * margin);
  const used = names.filter((name) => widths[name] > 0);
  const slack = Math.max(0, widthPx - needPx) / Math.max(1, used.length - 1);
  const x = {} as Plan["x"];
  let at = margin;
  for (const name of names) {
    x[name] = at;
    if (widths[name] > 0) at += widths[name] + slack;
  }
  return { ...c, square: c.roomy ? 30 : 24, tankW, x, needPx };
}
