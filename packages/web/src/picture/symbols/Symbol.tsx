import type { Placed } from "../layout/types.ts";
import type { SchematicPart } from "../schematic.ts";
import { FootValve } from "./FootValve.tsx";
import { KnobValve, LeverValve, StackValve } from "./StackValve.tsx";
import {
  CheckValve,
  Cock,
  Coupling,
  DoubleCheck,
  Drain,
  Load,
  LowAirSwitch,
  ManyWay,
  MarkedSquare,
  ProtectionValve,
  QuickRelease,
  SafetyValve,
  TestRig,
} from "./small.tsx";
import { Compressor, Dryer, Governor } from "./supply.tsx";
import { Tank } from "./Tank.tsx";
import { WheelEnd } from "./WheelEnd.tsx";

const SHAPES = {
  compressor: Compressor,
  electricCompressor: Compressor,
  dryer: Dryer,
  governor: Governor,
  reservoir: Tank,
  checkValve: CheckValve,
  safetyValve: SafetyValve,
  protectionValve: ProtectionValve,
  multiCircuitValve: ManyWay,
  auxiliaryLoad: Load,
  footValve: FootValve,
  quickRelease: QuickRelease,
  doubleCheck: DoubleCheck,
  loadSensing: MarkedSquare,
  modulator: MarkedSquare,
  parkingControl: KnobValve,
  trailerSupplyControl: KnobValve,
  handValve: LeverValve,
  coupling: Coupling,
  cutOutCock: Cock,
  lowAirSwitch: LowAirSwitch,
  drain: Drain,
  testRig: TestRig,
  springBrake: WheelEnd,
  serviceBrake: WheelEnd,
} as const;

/** The drawing of one part, or of one wheel end. Any valve without a drawing of its own is a stack of two squares. */
export function PartSymbol({ placed, part }: { placed: Placed; part: SchematicPart }) {
  const Shape = SHAPES[placed.shape as keyof typeof SHAPES] ?? StackValve;
  return <Shape placed={placed} part={part} />;
}
