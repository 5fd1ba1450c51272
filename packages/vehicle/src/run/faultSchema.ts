import * as z from "zod/mini";
import { bare, choice, identifier, judged, object } from "../schema/build.ts";
import { type PathParts, type Problem, problem, shown } from "../text/problem.ts";
import type { QuantityRule } from "../values/stored.ts";
import { checkSeconds, checkTicks } from "./time.ts";

export const seconds = (least = 0) => judged<number>((value, path) => checkSeconds(value, path, least));
export const ticks = (least = 0) => judged<number>((value, path) => checkTicks(value, path, least));

/** Name of a node, tank, chamber or axle: words with dots between. */
export const place = () =>
  judged<string>((value: unknown, path: PathParts): Problem[] => {
    if (typeof value === "string" && /^[A-Za-z0-9][A-Za-z0-9.-]{0,79}$/.test(value)) return [];
    const message = value === undefined ? "missing" : `${shown(value)} is not the name of a place`;
    return [problem(path, message, "write a name such as primary or rear.left")];
  });

/** A number from 0 to 1. */
export const share = () =>
  judged<number>((value: unknown, path: PathParts): Problem[] => {
    if (typeof value === "number" && value >= 0 && value <= 1) return [];
    return [
      problem(path, value === undefined ? "missing" : `${shown(value)} stands here`, "write a number from 0 to 1"),
    ];
  });

const rule = (kind: QuantityRule["kind"], unit: string, least: number, most: number): QuantityRule => ({
  kind,
  unit,
  least,
  most,
});

export const GAUGE_PRESSURE = rule("pressure", "psi", 0, 300);
const HOLE = rule("length", "mm", 0.01, 60);

const common = {
  name: identifier(),
  onsetS: z.optional(seconds()),
  onsetTick: z.optional(ticks()),
  severity: z.optional(share()),
};

/** A hole, or a fall of pressure at a stated pressure. Which of the two is looked at when the run is prepared. */
const leakSize = {
  hole: z.optional(bare(HOLE)),
  rate: z.optional(bare(rule("pressureRate", "psi/min", 0.001, 5000))),
  atPressure: z.optional(bare(GAUGE_PRESSURE)),
  volume: z.optional(bare(rule("volume", "L", 0.01, 1000))),
};

const kinds = <const T extends string>(fault: T, more: Record<string, z.core.$ZodType> = {}) =>
  object({ fault: z.literal(fault), ...common, ...more });

/** A fault as a run file has it, keyed by `fault`. */
export const fault = z.discriminatedUnion("fault", [
  kinds("leak", { where: place(), ...leakSize }),
  kinds("burst", { where: place(), bore: bare(HOLE) }),
  kinds("tornServiceDiaphragm", { where: place(), ...leakSize }),
  kinds("springSideLeak", { where: place(), ...leakSize }),
  kinds("governorStuck", { at: choice("loaded", "unloaded") }),
  kinds("compressorDead"),
  kinds("compressorWeak", { lost: bare(rule("ratio", "1", 0, 1)) }),
  kinds("purgeValveStuckOpen"),
  kinds("checkValveStuckOpen", { where: place() }),
  kinds("protectionValveStuckOpen", { where: place() }),
  kinds("antiCompoundingFailed"),
  kinds("parkingControlSticks"),
  kinds("relayExhaustLeaks", { where: place(), hole: bare(HOLE) }),
  kinds("relayCracksHigh", { where: place(), by: bare(rule("pressure", "psi", 0, 60)) }),
  kinds("footValveExhaustBlocked", { share: bare(rule("ratio", "1", 0, 1)) }),
  kinds("quickReleaseFrozen", { where: place() }),
  kinds("supplyLineParted"),
  kinds("serviceLineParted"),
  kinds("linesCrossed"),
  kinds("gaugeReadsHigh", { where: place(), by: bare(rule("pressure", "psi", -60, 60)) }),
  kinds("lowAirSwitchDead", { where: place() }),
  kinds("lowAirSwitchLow", { where: place(), closesBelow: bare(rule("pressure", "psi", 1, 150)) }),
]) as unknown as z.ZodMiniType<FaultFile>;

interface Bare {
  readonly value: number;
  readonly unit: string;
}

/** A fault as a run file has it. Which of the keys belong to which fault, the schema says. */
export interface FaultFile {
  readonly fault: string;
  readonly name: string;
  readonly where?: string;
  readonly onsetS?: number;
  readonly onsetTick?: number;
  readonly severity?: number;
  readonly hole?: Bare;
  readonly rate?: Bare;
  readonly atPressure?: Bare;
  readonly volume?: Bare;
  readonly bore?: Bare;
  readonly lost?: Bare;
  readonly by?: Bare;
  readonly share?: Bare;
  readonly closesBelow?: Bare;
  readonly at?: "loaded" | "unloaded";
}
