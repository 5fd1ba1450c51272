import { isBraked, SIDES } from "./assemble/unit.ts";
import type { CompleteReservoir, CompleteVehicle, Wheel } from "./complete/complete.ts";
import type { Choice, Quantity } from "./values/resolved.ts";

/** One tank as a summary shows it. */
export interface TankSummary {
  readonly id: string;
  readonly title: string;
  readonly role: string;
  readonly volume: Quantity;
  /** Whether the rule on tank volume counts it. */
  readonly counts: boolean;
}

/** One brake chamber as a summary shows it. */
export interface ChamberSummary {
  readonly name: string;
  readonly type: string;
  readonly stroke: string;
  readonly spring: string;
  readonly arm: Quantity;
  readonly ratedVolume: Quantity;
}

/** Tank volume against the chambers it serves. */
export interface TankRule {
  readonly reservoirsM3: number;
  readonly chambersM3: number;
  /** Tanks over chambers. */
  readonly ratio: number;
  /** What the rule asks of a new vehicle of this kind. */
  readonly asks: number;
  readonly source: string;
}

/** What a build-up time follows from. */
export interface BuildUp {
  readonly reservoirsM3: number;
  /** Swept volume of the compressor per second at each named engine speed (an electric one has one speed), m3/s. */
  readonly sweptM3PerS: Readonly<Record<string, number>>;
  /** Longest time from 85 to 100 psi at the maker's highest speed that the rule allows, s. */
  readonly allowedS: number;
  readonly source: string;
}

export interface VehicleSummary {
  readonly id: string;
  readonly title: string;
  readonly kind: CompleteVehicle["kind"];
  readonly built: string;
  readonly tanks: readonly TankSummary[];
  readonly chambers: readonly ChamberSummary[];
  /** Null for a vehicle without brakes of its own. */
  readonly tankRule: TankRule | null;
  /** Null for a vehicle without a compressor. */
  readonly buildUp: BuildUp | null;
  /** How many values come from where. */
  readonly counts: Readonly<Record<"measured" | "plate" | "typical", number>>;
  /** Values that are only typical, by path of words. */
  readonly typical: readonly string[];
  readonly assumptions: readonly string[];
}

const POWER_RULE = "49 CFR 571.121 S5.1.2.1 (read): service and supply tanks at least 12 times the service chambers";
const TRAILER_RULE = "49 CFR 571.121 S5.2.1.1 (from memory): tanks at least 8 times the service chambers";
const BUILD_RULE = "49 CFR 571.121 S5.1.1 (read): 25 s x actual over required tank volume";

/** What stands in a vehicle file at a glance, with what the rules on tanks and build-up start from. */
export function summariseVehicle(vehicle: CompleteVehicle): VehicleSummary {
  const counts = { measured: 0, plate: 0, typical: 0 };
  const typical: string[] = [];
  walk(vehicle, "", (path, value) => {
    counts[value.from]++;
    if (value.from === "typical") typical.push(path);
  });
  const tankRule = ruleOnTanks(vehicle);
  return {
    id: vehicle.id,
    title: vehicle.title,
    kind: vehicle.kind,
    built: vehicle.file.built,
    tanks: (vehicle.air?.reservoirs ?? []).map(tankSummary),
    chambers: wheels(vehicle).map(chamberSummary),
    tankRule,
    buildUp: tankRule && buildUp(vehicle, tankRule),
    counts,
    typical,
    assumptions: vehicle.assumptions.map((one) => one.text),
  };
}

const COUNTED = ["supply", "primary", "secondary", "trailer"];

function tankSummary(tank: CompleteReservoir): TankSummary {
  const { id, title, role } = tank;
  return { id, title, role, volume: tank.values.volume, counts: COUNTED.includes(role) };
}

interface NamedWheel {
  readonly name: string;
  readonly wheel: Wheel;
}

function wheels(vehicle: CompleteVehicle): NamedWheel[] {
  return vehicle.axles
    .filter(isBraked)
    .flatMap((axle) => SIDES.map((side) => ({ name: `${axle.id}.${side}`, wheel: axle.brakes[side] })));
}

function chamberSummary({ name, wheel }: NamedWheel): ChamberSummary {
  const { chamberType, chamberStroke, springType, arm, ratedVolume } = wheel;
  return { name, type: chamberType.value, stroke: chamberStroke.value, spring: springType.value, arm, ratedVolume };
}

function ruleOnTanks(vehicle: CompleteVehicle): TankRule | null {
  const tanks = (vehicle.air?.reservoirs ?? []).filter((tank) => COUNTED.includes(tank.role));
  const reservoirsM3 = tanks.reduce((sum, tank) => sum + tank.values.volume.si, 0);
  const chambersM3 = wheels(vehicle).reduce((sum, { wheel }) => sum + wheel.ratedVolume.si, 0);
  if (!(chambersM3 > 0)) return null;
  const towed = vehicle.kind === "trailer";
  return {
    reservoirsM3,
    chambersM3,
    ratio: reservoirsM3 / chambersM3,
    asks: towed ? 8 : 12,
    source: towed ? TRAILER_RULE : POWER_RULE,
  };
}

function buildUp(vehicle: CompleteVehicle, rule: TankRule): BuildUp | null {
  const compressor = vehicle.air?.power?.supply.compressor;
  if (!compressor) return null;
  const allowedS = (25 * rule.reservoirsM3) / (rule.asks * rule.chambersM3);
  return { reservoirsM3: rule.reservoirsM3, sweptM3PerS: swept(vehicle, compressor), allowedS, source: BUILD_RULE };
}

type Compressor = NonNullable<NonNullable<CompleteVehicle["air"]>["power"]>["supply"]["compressor"];

function swept(vehicle: CompleteVehicle, compressor: Compressor): Record<string, number> {
  const perTurn = compressor.values.displacement.si;
  if (compressor.drive === "electric") return { running: (perTurn * compressor.values.motorSpeed.si) / 60 };
  const speeds = vehicle.engineSpeeds;
  if (!speeds) return {};
  const { idle, fastIdle, governed, maximumRecommended } = speeds;
  const named = Object.entries({ idle, fastIdle, governed, maximumRecommended });
  return Object.fromEntries(
    named.map(([name, speed]) => [name, (perTurn * compressor.values.speedRatio.si * speed.si) / 60]),
  );
}

type Value = Quantity | Choice;

/** Every value of a complete vehicle with its path in words; the file itself is left out. */
function walk(at: unknown, path: string, visit: (path: string, value: Value) => void): void {
  if (typeof at !== "object" || at === null) return;
  if ("stored" in at) {
    visit(path, at as Value);
    return;
  }
  for (const [key, child] of Object.entries(at)) {
    if (key === "file" || key === "assumptions") continue;
    walk(child, path === "" ? nameOf(key, child) : `${path}.${nameOf(key, child)}`, visit);
  }
}

/** Items of lists by their name. */
function nameOf(key: string, child: unknown): string {
  const named = typeof child === "object" && child !== null && "id" in child && /^\d+$/.test(key);
  return named ? String((child as { id: unknown }).id) : key;
}
