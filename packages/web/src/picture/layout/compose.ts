import { nameOf } from "../names.ts";
import type { SchematicPart } from "../schematic.ts";
import { tankWidth } from "../symbols/tankWidth.ts";
import { type Box, onTrack } from "./geometry.ts";
import { type Plan, planFor, WHEEL_GAP } from "./plan.ts";
import { placeRest } from "./rest.ts";
import type { AxleEnds, Roles } from "./roles.ts";
import { footRows, STACK_WIDTH, wheelSizes } from "./shapes.ts";
import type { Sheet } from "./sheet.ts";
import type { WheelDetail } from "./types.ts";

/** Three rows carry the wide sheet: primary tank above, supply and valves in the middle, secondary tank below. */
interface Rows {
  top: number;
  mid: number;
  bottom: number;
}

/** Puts every part of the vehicle on a wide sheet. */
export function composeWide(sheet: Sheet, roles: Roles): Plan {
  const plan = planFor(roles, sheet.widthPx, sheet.heightPx);
  const edge = roles.towing ? 48 : 36;
  const rows = { top: edge, mid: onTrack(sheet.heightPx / 2), bottom: onTrack(sheet.heightPx - edge) };
  placeSupply(sheet, roles, plan, rows);
  placeTanks(sheet, roles, plan, rows);
  placeAuxiliary(sheet, roles, rows);
  placeAxles(sheet, roles.rearAxles, plan.x.rear, plan.rear, rows);
  if (roles.frontAxle) placeAxles(sheet, [roles.frontAxle], plan.x.front, plan.front, rows);
  placeAxles(sheet, roles.trailerAxles, plan.x.trailer, plan.trailer, rows);
  placeFoot(sheet, roles, plan, rows);
  placeParking(sheet, roles, plan, rows);
  placeAxleValves(sheet, roles, plan, rows);
  placeJoint(sheet, roles, plan, rows);
  placeTrailerValves(sheet, roles, plan, rows);
  placeRest(sheet, roles);
  sheet.margins = { top: rows.top - 12, bottom: rows.bottom + 12 };
  return plan;
}

function first(roles: Roles, kind: string, unit: "power" | "trailer" = "power"): SchematicPart | undefined {
  return roles.schematic.parts.find((p) => p.kind === kind && p.unit === unit);
}

function all(roles: Roles, kind: string, unit: "power" | "trailer" = "power"): SchematicPart[] {
  return roles.schematic.parts.filter((p) => p.kind === kind && p.unit === unit);
}

// Supply: compressor, dryer, supply tank on the middle row (or compressor under the dryer where room is short).

function placeSupply(sheet: Sheet, roles: Roles, plan: Plan, rows: Rows): void {
  const x = plan.x.supply;
  const compressor = first(roles, "compressor") ?? first(roles, "electricCompressor");
  const dryer = first(roles, "dryer");
  const multi = first(roles, "multiCircuitValve");
  const governor = first(roles, "governor");
  const drop = plan.roomy ? 0 : 90;
  if (compressor) sheet.putMiddle(compressor, x + (plan.roomy ? 42 : 30), rows.mid + drop);
  if (dryer) sheet.putMiddle(dryer, x + (plan.roomy ? 126 : 30), rows.mid);
  const tankX = x + (plan.roomy ? 174 : 72);
  for (const tank of roles.supplyTanks) {
    sheet.put(tank, tankX, rows.mid - 24, { w: plan.roomy ? 102 : 96, h: 48 });
  }
  if (multi) sheet.put(multi, tankX + (roles.supplyTanks.length > 0 ? 120 : 12), rows.mid - 48, { w: 60, h: 96 });
  if (governor) sheet.putMiddle(governor, x + (plan.roomy ? 162 : 84), rows.mid - 96);
  placeChecks(sheet, roles, plan, rows);
}

/** Check valves stand on the riser between the supply tank and the service tanks. */
function placeChecks(sheet: Sheet, roles: Roles, plan: Plan, rows: Rows): void {
  const riser = plan.x.tanks - (plan.roomy ? 24 : 18);
  for (const check of all(roles, "checkValve")) {
    const tank = (roles.neighbours.get(check.id) ?? []).find((id) => roles.serviceTanks.some((t) => t.id === id));
    const index = roles.serviceTanks.findIndex((t) => t.id === tank);
    if (index < 0 || index > 1) continue;
    const up = index === 0;
    sheet.putMiddle(check, riser, up ? rows.mid - 66 : rows.mid + 66, { way: up ? "t" : "b" });
  }
}

/** Loads with their protection valves: below the supply tank, or beside the service tank that feeds them. */
function placeAuxiliary(sheet: Sheet, roles: Roles, rows: Rows): void {
  const counts = new Map<string, number>();
  for (const load of all(roles, "auxiliaryLoad")) {
    const [before] = roles.neighbours.get(load.id) ?? [];
    const valve = roles.parts.get(before ?? "")?.kind === "protectionValve" ? roles.parts.get(before!)! : null;
    const source = valve ? (roles.neighbours.get(valve.id) ?? []).find((id) => id !== load.id) : before;
    const from = source ? sheet.of(source) : undefined;
    const count = counts.get(source ?? "") ?? 0;
    counts.set(source ?? "", count + 1);
    if (!from) continue;
    if (from.box.y > rows.mid) placeAbove(sheet, valve, load, from.box.x + from.box.w - 36 - count * 60, from.box.y);
    else placeBelow(sheet, valve, load, from.box, rows, count);
  }
}

function placeAbove(sheet: Sheet, valve: SchematicPart | null, load: SchematicPart, x: number, y: number): void {
  if (valve) sheet.putMiddle(valve, x, y - 42, { way: "t" });
  sheet.putMiddle(load, x, y - 102);
}

function placeBelow(
  sheet: Sheet,
  valve: SchematicPart | null,
  load: SchematicPart,
  from: Box,
  rows: Rows,
  count: number,
): void {
  const y = from.y + from.h;
  const x = from.x + from.w - 18 - count * 48;
  if (valve) sheet.putMiddle(valve, x, y + 60, { way: "b" });
  sheet.putMiddle(load, x, Math.min(y + 120, rows.bottom - 12));
}

// Tanks: primary above, secondary below, any others between.

function placeTanks(sheet: Sheet, roles: Roles, plan: Plan, rows: Rows): void {
  const x = plan.x.tanks;
  roles.serviceTanks.forEach((tank, i) => {
    const row = i === 0 ? rows.top : i === 1 ? rows.bottom : rows.mid + (i - 2) * 60;
    const w = i < 2 ? plan.tankW : tankWidth(nameOf(tank, roles.schematic), plan.roomy);
    sheet.put(tank, x + (i < 2 ? 0 : 6), row - 24, { w, h: 48, roomy: plan.roomy });
  });
  roles.trailerTanks.forEach((tank, i) => {
    sheet.put(tank, plan.x.trailerValves, rows.top - 24 + i * 90, {
      w: tankWidth(nameOf(tank, roles.schematic), false),
      h: 48,
    });
  });
  placeHangers(sheet, roles);
}

/** Hangs switches, drains and safety valves on their tanks: on the side that looks to the middle of the sheet. */
function placeHangers(sheet: Sheet, roles: Roles): void {
  const taken = new Map<string, number>();
  for (const [id, tankId] of roles.attached) {
    const part = roles.parts.get(id)!;
    const tank = sheet.of(tankId);
    if (!tank) continue;
    const top = tank.box.y < sheet.heightPx / 3;
    const bottom = tank.box.y > (2 * sheet.heightPx) / 3;
    const below = top || (!bottom && part.kind !== "safetyValve");
    const key = `${tankId}${below}`;
    const count = taken.get(key) ?? 0;
    taken.set(key, count + 1);
    const step = tank.box.w < 100 ? -6 : tank.box.w < 110 ? 0 : 18;
    const atEnd = part.kind === "safetyValve" && !top && !bottom;
    const x = atEnd ? tank.box.x + tank.box.w - 30 : tank.box.x + step + count * 36;
    sheet.put(part, x, below ? tank.box.y + tank.box.h + 12 : tank.box.y - 36);
  }
}

// Wheel ends: left wheels in the upper row, right wheels in the lower row.

function placeAxles(sheet: Sheet, axles: readonly AxleEnds[], x: number, detail: WheelDetail, rows: Rows): void {
  axles.forEach((axle, column) => {
    for (const wheel of axle.wheels) {
      const size = wheelSizes(detail, wheel.spring);
      const upper = wheel.side === "left";
      const y = upper ? rows.top + 18 : rows.bottom - 18 - size.h;
      const [part, ...others] = wheel.parts;
      const shape = wheel.spring ? "springBrake" : "serviceBrake";
      sheet.put(part!, x + column * (size.w + WHEEL_GAP), y, { detail, flip: !upper }, others, shape);
    }
  });
}

// Valves of the driver: foot valve before the front axle, parking control after the tanks.

function placeFoot(sheet: Sheet, roles: Roles, plan: Plan, rows: Rows): void {
  const foot = first(roles, "footValve");
  if (!foot) return;
  const lower = footRows(plan.square).lower;
  sheet.put(foot, plan.x.front - STACK_WIDTH - (plan.roomy ? 30 : 24), rows.mid - lower, { square: plan.square });
}

function placeParking(sheet: Sheet, roles: Roles, plan: Plan, rows: Rows): void {
  const x = plan.x.parking;
  const { square } = plan;
  const off = 2 * square + 12;
  const [check] = all(roles, "doubleCheck").filter((p) => p.circuit === "parking");
  if (check) sheet.putMiddle(check, x + 12, rows.mid, { way: "r" });
  const control = first(roles, "parkingControl");
  const modulating = first(roles, "springBrakeModulatingValve");
  if (control) sheet.putMiddle(control, x + 66, rows.mid + off, { square, mirror: modulating !== undefined });
  const trailer = first(roles, "trailerSupplyControl");
  if (trailer) sheet.putMiddle(trailer, x + 66, rows.mid - off, { square, mirror: true });
  if (modulating) sheet.putMiddle(modulating, x + 66, rows.mid - off, { square, flip: true });
  const hand = first(roles, "handValve");
  if (hand) sheet.putMiddle(hand, x + 150, rows.mid + off + 12, { square: 24 });
}

// Valves of the axles stand between the wheels they feed.

function placeAxleValves(sheet: Sheet, roles: Roles, plan: Plan, rows: Rows): void {
  const axles = [...roles.rearAxles, ...(roles.frontAxle ? [roles.frontAxle] : []), ...roles.trailerAxles];
  for (const kind of ["modulator", "relayValve", "quickRelease", "loadSensing"]) {
    for (const part of roles.schematic.parts.filter((p) => p.kind === kind)) {
      const fed = fedWheels(sheet, roles, part.id, axles);
      if (fed.length === 0) continue;
      placeBetween(sheet, part, fed, plan, rows);
    }
  }
}

/** Service and spring ports of the wheel ends that a valve feeds, directly or through smaller valves. */
function fedWheels(
  sheet: Sheet,
  roles: Roles,
  id: string,
  axles: readonly AxleEnds[],
): { x: number; y: number; spring: boolean }[] {
  const chambers = new Set(axles.flatMap((a) => a.wheels.flatMap((w) => w.parts.map((p) => p.id))));
  const seen = new Set([id]);
  const found: { x: number; y: number; spring: boolean }[] = [];
  const queue = [id];
  while (queue.length > 0) {
    const at = queue.shift()!;
    for (const line of roles.schematic.lines) {
      if (line.from.part !== at || !line.from.port.startsWith("2") || line.role === "signal") continue;
      const next = line.to.part;
      if (chambers.has(next)) {
        const spots = sheet.of(next)?.spots[`${next}:${line.to.port}`];
        if (spots?.[0])
          found.push({
            x: spots[0].x,
            y: spots[0].y,
            spring: roles.parts.get(next)?.kind === "springChamber" && line.to.port !== "11",
          });
      } else if (!seen.has(next) && roles.parts.get(next)?.kind !== "reservoir") {
        seen.add(next);
        queue.push(next);
      }
    }
  }
  return found;
}

function placeBetween(
  sheet: Sheet,
  part: SchematicPart,
  fed: { x: number; y: number; spring: boolean }[],
  plan: Plan,
  rows: Rows,
): void {
  const xs = fed.map((f) => f.x);
  const ys = fed.map((f) => f.y);
  const meanY = ys.reduce((a, b) => a + b, 0) / ys.length;
  const y = fed.length > 1 ? rows.mid : meanY < rows.mid ? meanY + 36 : meanY - 36;
  const spring = fed.every((f) => f.spring);
  const square = plan.square;
  if (part.kind === "quickRelease") sheet.putNear(part, Math.min(...xs), y, {}, 12);
  else if (part.kind === "modulator")
    sheet.putMiddle(part, Math.min(...xs), meanY < rows.mid ? meanY + 30 : meanY - 30, {
      way: meanY < rows.mid ? "t" : "b",
    });
  else if (part.kind === "loadSensing") sheet.putNear(part, Math.min(...xs), y, {}, 12);
  else if (spring)
    sheet.putNear(
      part,
      Math.min(...xs) - 48,
      y,
      { square, flip: sheet.placed.some((p) => p.shape === "springBrakeModulatingValve") },
      12,
    );
  else sheet.putNear(part, Math.min(...xs) + 66, y, { square, mirror: true }, 12);
}

// Between tractor and trailer: protection valve and couplings. Beyond them the trailer's own valves.

function placeJoint(sheet: Sheet, roles: Roles, plan: Plan, rows: Rows): void {
  const x = plan.x.joint;
  const protection = first(roles, "tractorProtection");
  if (protection) sheet.putMiddle(protection, x + 72, rows.mid + 36, { mirror: true, square: 24 });
  const rig = roles.schematic.parts.find((p) => p.kind === "testRig");
  if (rig) sheet.putMiddle(rig, x + 84, rows.mid);
  for (const coupling of roles.schematic.parts.filter((p) => p.kind === "coupling")) {
    const supply = coupling.circuit === "trailerSupply";
    sheet.putMiddle(coupling, x + 12, rows.mid + (supply ? -48 : 36), { way: "l" });
  }
  const checks = all(roles, "doubleCheck").filter((p) => p.circuit === "trailerService");
  const foot = roles.schematic.parts.find((p) => p.kind === "footValve");
  const at = foot && sheet.of(foot.id);
  if (at && checks[0]) sheet.putMiddle(checks[0], at.box.x - 36, rows.mid + 84, { way: "r", mirror: true });
  if (checks[1]) sheet.putMiddle(checks[1], plan.x.parking + 150, rows.mid + 2 * plan.square + 12 + 84, { way: "b" });
}

function placeTrailerValves(sheet: Sheet, roles: Roles, plan: Plan, rows: Rows): void {
  const x = plan.x.trailerValves + 72;
  const spring = first(roles, "trailerSpringValve", "trailer") ?? first(roles, "emergencyValve", "trailer");
  if (spring) sheet.putMiddle(spring, x, rows.mid - 48, { mirror: true, square: 24, outlets: 2 });
  all(roles, "trailerRelay", "trailer").forEach((relay, i) => {
    sheet.putMiddle(relay, x - i * 66, rows.mid + 72, { mirror: true, square: 24 });
  });
}
