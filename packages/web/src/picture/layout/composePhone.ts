import { nameOf } from "../names.ts";
import type { SchematicPart } from "../schematic.ts";
import { tankWidth } from "../symbols/tankWidth.ts";
import { onTrack } from "./geometry.ts";
import { placeRest } from "./rest.ts";
import type { AxleEnds, Roles } from "./roles.ts";
import { wheelSizes } from "./shapes.ts";
import type { Sheet } from "./sheet.ts";

/** Where the wheels begin on a narrow sheet, so that the page can go there. */
export interface NarrowPlan {
  wheelsY: number;
  heightPx: number;
}

const SQUARE = 24;
const SUPPLY_Y = 96;
const TANKS_Y = 276;
const CONTROLS_Y = 390;
const AXLE_PITCH = 252;
const JOINT_HEIGHT = 210;
const TRAILER_TANKS = 132;

/** Height of the narrow sheet of a vehicle. */
export function narrowPlan(roles: Roles): NarrowPlan {
  const wheelsY = controlsY(roles) + (find(roles, "handValve") ? 384 : 180);
  const axles = [...roles.rearAxles, ...roles.trailerAxles, ...(roles.frontAxle ? [roles.frontAxle] : [])];
  const trailer = roles.towing ? JOINT_HEIGHT + (roles.trailerAxles.length > 0 ? TRAILER_TANKS : 0) : 0;
  const wheels = axles.reduce((sum, axle) => sum + pitchOf(roles, axle), 0);
  return { wheelsY, heightPx: onTrack(wheelsY + wheels + trailer + 12) };
}

/** A third tank stands below the first two. */
function controlsY(roles: Roles): number {
  return CONTROLS_Y + (roles.serviceTanks.length > 2 ? 96 : 0);
}

function pitchOf(roles: Roles, axle: AxleEnds): number {
  return roles.schematic.parts.some((p) => p.kind === "modulator" && p.axle === axle.axle)
    ? AXLE_PITCH + 66
    : AXLE_PITCH;
}

/** Puts every part on a narrow sheet: supply, tanks, controls and axles below one another. */
export function composeNarrow(sheet: Sheet, roles: Roles): void {
  placeSupply(sheet, roles);
  placeTanks(sheet, roles);
  placeControls(sheet, roles);
  let y = narrowPlan(roles).wheelsY;
  for (const axle of [...(roles.frontAxle ? [roles.frontAxle] : []), ...roles.rearAxles]) {
    placeAxle(sheet, roles, axle, y);
    y += pitchOf(roles, axle);
  }
  if (roles.towing) {
    placeJoint(sheet, roles, y);
    y += JOINT_HEIGHT;
    placeTrailerTanks(sheet, roles, y);
    if (roles.trailerAxles.length > 0) y += TRAILER_TANKS;
    for (const axle of roles.trailerAxles) {
      placeAxle(sheet, roles, axle, y);
      y += pitchOf(roles, axle);
    }
  }
  placeRest(sheet, roles);
}

const find = (roles: Roles, kind: string): SchematicPart | undefined =>
  roles.schematic.parts.find((p) => p.kind === kind && p.unit === "power");

function placeSupply(sheet: Sheet, roles: Roles): void {
  const compressor = find(roles, "compressor") ?? find(roles, "electricCompressor");
  const dryer = find(roles, "dryer");
  const governor = find(roles, "governor");
  const multi = find(roles, "multiCircuitValve");
  if (compressor) sheet.putMiddle(compressor, 48, SUPPLY_Y);
  if (dryer) sheet.putMiddle(dryer, 126, SUPPLY_Y);
  if (governor) sheet.putMiddle(governor, 168, SUPPLY_Y - 60);
  for (const tank of roles.supplyTanks) sheet.put(tank, 174, SUPPLY_Y - 24, { w: 96, h: 48 });
  if (multi) sheet.put(multi, roles.supplyTanks.length > 0 ? 288 : 192, SUPPLY_Y - 48, { w: 60, h: 96 });
  placeLoads(sheet, roles);
}

/** Protection valves with their loads, one row each, right of the supply tank. */
function placeLoads(sheet: Sheet, roles: Roles): void {
  const fed = roles.schematic.parts.filter((p) => p.kind === "auxiliaryLoad" && nearSupply(sheet, roles, p.id));
  fed.forEach((load, i) => {
    const y = SUPPLY_Y + (fed.length > 1 ? i * 66 - 30 : 0);
    const valve = (roles.neighbours.get(load.id) ?? [])
      .map((id) => roles.parts.get(id)!)
      .find((p) => p.kind === "protectionValve");
    if (valve) sheet.putMiddle(valve, 306, y, { way: "r" });
    if (valve) sheet.putMiddle(load, 360, y);
    else sheet.putMiddle(load, 348 - i * 84, SUPPLY_Y + 78);
  });
}

/** Whether a load takes its air before the service tanks. */
function nearSupply(sheet: Sheet, roles: Roles, load: string): boolean {
  const [before] = roles.neighbours.get(load) ?? [];
  const feeders =
    roles.parts.get(before ?? "")?.kind === "protectionValve" ? (roles.neighbours.get(before!) ?? []) : [before ?? ""];
  return feeders.some((id) => (sheet.of(id)?.box.y ?? TANKS_Y) < SUPPLY_Y);
}

function placeTanks(sheet: Sheet, roles: Roles): void {
  roles.serviceTanks.forEach((tank, i) => {
    const x = i === 0 ? 18 : i === 1 ? 204 : 120;
    sheet.put(tank, x, TANKS_Y - 24 + (i > 1 ? 102 : 0), { w: tankWidth(nameOf(tank, roles.schematic), false), h: 48 });
  });
  for (const check of roles.schematic.parts.filter((p) => p.kind === "checkValve")) {
    const tank = (roles.neighbours.get(check.id) ?? []).map((id) => sheet.of(id)).find((p) => p && p.box.y > SUPPLY_Y);
    if (tank && tank.box.y > TANKS_Y) sheet.putMiddle(check, tank.box.x - 30, tank.box.y + 24, { way: "r" });
    else if (tank) sheet.putMiddle(check, tank.box.x + (tank.box.x < 120 ? 6 : 18), TANKS_Y - 66, { way: "b" });
  }
  hang(sheet, roles);
}

function hang(sheet: Sheet, roles: Roles): void {
  const count = new Map<string, number>();
  for (const [id, tankId] of roles.attached) {
    const tank = sheet.of(tankId);
    const part = roles.parts.get(id)!;
    if (!tank || sheet.has(id)) continue;
    const above = part.kind === "safetyValve";
    const n = count.get(`${tankId}${above}`) ?? 0;
    count.set(`${tankId}${above}`, n + 1);
    const x = above ? tank.box.x + tank.box.w - 30 : tank.box.x + 30 + n * 54;
    sheet.put(part, x, above ? tank.box.y - 36 : tank.box.y + tank.box.h + 12);
  }
}

function placeControls(sheet: Sheet, roles: Roles): void {
  const y = controlsY(roles);
  const check = roles.schematic.parts.find((p) => p.kind === "doubleCheck" && p.circuit === "parking");
  const control = find(roles, "parkingControl");
  const foot = find(roles, "footValve");
  const trailer = find(roles, "trailerSupplyControl");
  if (check) sheet.putMiddle(check, 60, y + 6, { way: "b" });
  if (control) sheet.putMiddle(control, 96, y + 84, { square: SQUARE });
  if (trailer) sheet.putMiddle(trailer, 192, y + 84, { square: SQUARE, mirror: true });
  if (foot) sheet.put(foot, 264, y - 24, { square: SQUARE });
  const hand = find(roles, "handValve");
  if (hand) sheet.putMiddle(hand, 84, y + 246, { square: SQUARE });
  const [both, withHand] = roles.schematic.parts.filter(
    (p) => p.kind === "doubleCheck" && p.circuit === "trailerService",
  );
  if (both) sheet.putMiddle(both, 288, y + 204, { way: "b" });
  if (withHand) sheet.putMiddle(withHand, 216, y + 300, { way: "b" });
}

/** Wheels side by side, ports up; the valves that feed them stand above. */
function placeAxle(sheet: Sheet, roles: Roles, axle: AxleEnds, y: number): void {
  for (const wheel of axle.wheels) {
    const size = wheelSizes("compact", wheel.spring);
    const x = wheel.side === "left" ? 24 : 234;
    const [part, ...others] = wheel.parts;
    const top = y + pitchOf(roles, axle) - 24 - size.h;
    const modulator = roles.schematic.parts.find(
      (p) => p.kind === "modulator" && p.axle === axle.axle && p.side === wheel.side,
    );
    if (modulator) sheet.putMiddle(modulator, x + (wheel.spring ? 54 : 24), top - 42, { way: "b" });
    sheet.put(part!, x, top, { detail: "compact", flip: true }, others, wheel.spring ? "springBrake" : "serviceBrake");
  }
  placeValvesOf(sheet, roles, axle, y + 54);
}

const AXLE_VALVES = [
  "relayValve",
  "trailerRelay",
  "trailerSpringValve",
  "emergencyValve",
  "quickRelease",
  "loadSensing",
  "springBrakeModulatingValve",
];

function placeValvesOf(sheet: Sheet, roles: Roles, axle: AxleEnds, y: number): void {
  const chambers = new Set(axle.wheels.flatMap((w) => w.parts.map((p) => p.id)));
  const near = roles.schematic.parts.filter(
    (p) => AXLE_VALVES.includes(p.kind) && !sheet.has(p.id) && reaches(roles, p.id, chambers),
  );
  near.forEach((part, i) => {
    const x = near.length === 1 ? 186 : 126 + (i * 120) / Math.max(1, near.length - 1);
    const outlets = part.kind === "trailerSpringValve" ? 2 : 1;
    sheet.putNear(part, x, y, { square: SQUARE, outlets }, 12);
  });
}

function reaches(roles: Roles, from: string, goals: ReadonlySet<string>): boolean {
  const seen = new Set([from]);
  const queue = [from];
  while (queue.length > 0) {
    const at = queue.shift()!;
    for (const line of roles.schematic.lines) {
      if (line.from.part !== at || line.role === "signal" || seen.has(line.to.part)) continue;
      if (goals.has(line.to.part)) return true;
      if (roles.parts.get(line.to.part)?.kind === "reservoir") continue;
      seen.add(line.to.part);
      queue.push(line.to.part);
    }
  }
  return false;
}

function placeJoint(sheet: Sheet, roles: Roles, y: number): void {
  const protection = find(roles, "tractorProtection");
  const rig = roles.schematic.parts.find((p) => p.kind === "testRig");
  if (protection) sheet.putMiddle(protection, 96, y + 72, { square: SQUARE });
  if (rig) sheet.putMiddle(rig, 186, y + 60);
  for (const coupling of roles.schematic.parts.filter((p) => p.kind === "coupling")) {
    sheet.putMiddle(coupling, coupling.circuit === "trailerSupply" ? 276 : 156, y + 168, { way: "b" });
  }
}

function placeTrailerTanks(sheet: Sheet, roles: Roles, y: number): void {
  roles.trailerTanks.forEach((tank, i) => {
    sheet.put(tank, 30 + i * 180, y + 36, { w: tankWidth(nameOf(tank, roles.schematic), false), h: 48 });
  });
  hang(sheet, roles);
}
