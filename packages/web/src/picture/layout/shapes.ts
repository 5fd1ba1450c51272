import type { Side } from "./geometry.ts";
import type { Spot, Stance, WheelDetail } from "./types.ts";

/** Size of a symbol and where its ports are, measured from its upper left corner. */
export interface Shape {
  w: number;
  h: number;
  spots(port: string): Spot[];
}

const spot = (x: number, y: number, side: Side, price = 0): Spot => ({ x, y, side, price });

/** First digit of an ISO 6786 port number: 1 supply, 2 delivery, 3 exhaust, 4 control. */
const duty = (port: string) => port.charAt(0);

/** Width of a symbol made of sliding squares: the squares stand in the middle, exhaust triangles and stubs beside them. */
export const STACK_WIDTH = 48;

/** Turns a shape left to right. */
function mirrored(shape: Shape): Shape {
  const turn: Record<Side, Side> = { l: "r", r: "l", t: "t", b: "b" };
  return { ...shape, spots: (port) => shape.spots(port).map((s) => ({ ...s, x: shape.w - s.x, side: turn[s.side] })) };
}

/** Turns a shape upside down. */
function flipped(shape: Shape): Shape {
  const turn: Record<Side, Side> = { l: "l", r: "r", t: "b", b: "t" };
  return { ...shape, spots: (port) => shape.spots(port).map((s) => ({ ...s, y: shape.h - s.y, side: turn[s.side] })) };
}

/** A valve of two squares that slide past the row where the ports are; supply left, delivery right, pilot below. */
function stack(stance: Stance): Shape {
  const s = stance.square ?? 30;
  const h = 4 * s;
  return {
    w: STACK_WIDTH,
    h,
    spots(port) {
      switch (duty(port)) {
        case "1":
          return [spot((STACK_WIDTH - s) / 2, h / 2, "l")];
        case "2":
          return [spot((STACK_WIDTH + s) / 2, h / 2 + outletShift(port, stance), "r")];
        case "4":
          return [spot(port === "42" ? STACK_WIDTH / 2 + 12 : STACK_WIDTH / 2, h, "b")];
        default:
          return [];
      }
    },
  };
}

/** Two outlets that carry different air leave a valve one above the other. */
function outletShift(port: string, stance: Stance): number {
  if (!stance.outlets || stance.outlets < 2) return 0;
  return port === "21" ? -6 : 6;
}

/** Rows of the foot valve, from its top: where the pedal ends, the ports of both sections, the whole height. */
export function footRows(square: number): { pedal: number; upper: number; lower: number; h: number } {
  const pedal = square === 30 ? 27 : 24;
  const upper = pedal + square + square / 2;
  return { pedal, upper, lower: upper + 2 * square, h: pedal + 5 * square + square / 2 };
}

/** Foot valve: section 1 (11 right, 21 left, so that the rear lies left) above section 2 (12 left, 22 right). */
function foot(stance: Stance): Shape {
  const s = stance.square ?? 30;
  const rows = footRows(s);
  const left = (STACK_WIDTH - s) / 2;
  const right = left + s;
  return {
    w: STACK_WIDTH,
    h: rows.h,
    spots(port) {
      const second = port.length > 1 && port.endsWith("2");
      const supply = duty(port) === "1";
      if (!supply && duty(port) !== "2") return [];
      const onLeft = supply === second;
      return [spot(onLeft ? left : right, second ? rows.lower : rows.upper, onLeft ? "l" : "r")];
    },
  };
}

/** A capsule or box that may be joined anywhere round its edge. */
function anywhere(w: number, h: number): Shape {
  return {
    w,
    h,
    spots() {
      const list = [spot(0, h / 2, "l"), spot(w, h / 2, "r")];
      for (let x = 24; x <= w - 24; x += 12) list.push(spot(x, 0, "t", 3), spot(x, h, "b", 3));
      return list;
    },
  };
}

/** A symbol with one port in the middle of each side that its ports share freely. */
function fourSided(w: number, h: number, order: Record<string, Side[]>): Shape {
  const at: Record<Side, Spot> = {
    l: spot(0, h / 2, "l"),
    r: spot(w, h / 2, "r"),
    t: spot(w / 2, 0, "t"),
    b: spot(w / 2, h, "b"),
  };
  return {
    w,
    h,
    spots: (port) =>
      (order[port] ?? order[duty(port)] ?? order["*"] ?? []).map((side, i) => ({ ...at[side], price: i * 2 })),
  };
}

/** A symbol through which air goes straight one way. */
function through(size: number, way: Side): Shape {
  const opposite: Record<Side, Side> = { l: "r", r: "l", t: "b", b: "t" };
  return fourSided(size, size, { "1": [opposite[way]], "2": [way], "*": [way] });
}

/** Widths and heights of a wheel end and of its chamber, by how much of it is shown. */
export function wheelSizes(detail: WheelDetail, spring: boolean) {
  const half = { full: 42, medium: 42, compact: 36 }[detail];
  const chamberW = spring ? 2 * half : half + 6;
  const chamberH = { full: 48, medium: 48, compact: 42 }[detail];
  const w = { full: 288, medium: 198, compact: 126 }[detail];
  const h = { full: 72, medium: 78, compact: 96 }[detail];
  return { half, chamberW, chamberH, w: detail === "full" && !spring ? w - 36 : w, h };
}

/**
 * A wheel end of the upper row: figures above the chamber, ports below it. The lower row is flipped. `1x` is the
 * service side, port 12 of a spring brake the spring side.
 */
function wheel(stance: Stance, spring: boolean): Shape {
  const size = wheelSizes(stance.detail ?? "full", spring);
  const serviceX = spring ? size.half + 18 : 24;
  return {
    w: size.w,
    h: size.h,
    spots(port) {
      const x = port === "12" ? 18 : serviceX;
      return [spot(x, size.h, "b"), spot(x, size.h - size.chamberH, "t", 60)].slice(0, 1);
    },
  };
}

function doubleCheck(stance: Stance): Shape {
  const lying = stance.way === "t" || stance.way === "b";
  if (!lying) return fourSided(24, 48, { "11": ["t"], "12": ["b"], "1": ["t", "b"], "2": ["r"], "*": ["r"] });
  const out = stance.way ?? "b";
  return fourSided(48, 24, { "11": ["l"], "12": ["r"], "1": ["l", "r"], "2": [out], "*": [out] });
}

/** Box of a protection valve with several outlets: 1 left, the 2x on the other sides. */
function manyWay(stance: Stance): Shape {
  const w = stance.w ?? 60;
  const h = stance.h ?? 96;
  return {
    w,
    h,
    spots(port) {
      if (duty(port) === "1") return [spot(0, h / 2, "l")];
      const row = { "21": 18, "23": h / 2, "22": h - 18 }[port];
      return row === undefined ? [spot(w / 2, h, "b")] : [spot(w, row, "r")];
    },
  };
}

const QUICK: Record<string, Side[]> = { "1": ["l"], "2": ["t", "b", "r"], "*": ["t", "b"] };

/** The shape of a kind of part as it stands. */
export function shapeOf(kind: string, stance: Stance): Shape {
  let shape = bareShape(kind, stance);
  if (stance.mirror) shape = mirrored(shape);
  if (stance.flip) shape = flipped(shape);
  return shape;
}

function bareShape(kind: string, stance: Stance): Shape {
  switch (kind) {
    case "compressor":
    case "electricCompressor":
      return fourSided(48, 48, { "4": ["t", "l"], "2": ["r", "t", "b"], "*": ["r", "t", "b"] });
    case "dryer":
      return fourSided(48, 48, {
        "1": ["l", "b"],
        "4": ["t", "l"],
        "21": ["r"],
        "22": ["t", "b"],
        "2": ["r"],
        "*": ["r", "t"],
      });
    case "governor":
      return fourSided(36, 36, { "1": ["r", "b"], "2": ["l", "t"], "4": ["r", "b"], "*": ["l", "r", "b"] });
    case "reservoir":
      return anywhere(stance.w ?? 168, stance.h ?? 48);
    case "checkValve":
      return through(24, stance.way ?? "r");
    case "protectionValve":
      return through(36, stance.way ?? "r");
    case "multiCircuitValve":
      return manyWay(stance);
    case "auxiliaryLoad":
      return fourSided(24, 24, { "*": ["l", "t", "r", "b"] });
    case "footValve":
      return foot(stance);
    case "doubleCheck":
      return doubleCheck(stance);
    case "quickRelease":
      return fourSided(36, 36, QUICK);
    case "modulator":
      return through(36, stance.way ?? "t");
    case "loadSensing":
      return fourSided(36, 36, { "1": ["l"], "2": ["r"], "4": ["b", "t"], "*": ["t", "b"] });
    case "testRig":
      return anywhere(stance.w ?? 72, stance.h ?? 48);
    case "coupling":
    case "cutOutCock":
      return through(24, stance.way ?? "l");
    case "springBrake":
      return wheel(stance, true);
    case "serviceBrake":
      return wheel(stance, false);
    case "lowAirSwitch":
    case "drain":
    case "safetyValve":
      return fourSided(24, 24, { "*": ["t", "b", "l", "r"] });
    default:
      return stack(stance);
  }
}
