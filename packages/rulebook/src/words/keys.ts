import type { QuantityKind } from "@brakeyard/units";
import { choice, count, date, flag, type KeyRules, name, nominal, range, words } from "./rules.ts";

/** Facts about a vehicle that decide whether a limit applies to it. A combination is judged by the unit that tows. */
export const FACTS = {
  kind: choice("kind of vehicle", "bus", "truck", "tractor", "trailer", "dolly"),
  built: date("day it was built"),
  gross: range("mass", "gross vehicle rating"),
  axles: count("number of axles"),
  combination: choice("alone or coupled", "single", "combination"),
  category: choice("category of UN Regulation 13", "M2", "M3", "N1", "N2", "N3", "O1", "O2", "O3", "O4"),
  mayTow: flag("made to tow a trailer"),
  trailerForm: choice("form of a trailer", "full", "semi", "centre axle"),
  circuits: choice("service brake system", "single", "dual"),
  brakes: choice("what works the service brakes", "air", "hydraulic"),
  antilock: flag("brakes controlled by an antilock system"),
  carChassis: flag("built on the chassis of a car"),
  seats: count("seating places, the driver's included"),
  towed: range("mass", "gross rating of the trailer towed"),
  enduranceTest: flag("one of those that the regulation puts to the type II-A test"),
  place: name("state or province whose reprint is meant"),
} as const satisfies KeyRules;

const TYPES = [
  "6",
  "9",
  "12",
  "14",
  "16",
  "18",
  "20",
  "24",
  "30",
  "36",
  "50",
  "A",
  "B",
  "C",
  "D",
  "E",
  "F",
  "G",
] as const;

const TESTS = [
  "type 0",
  "type I",
  "type II",
  "type II-A",
  "type III",
  "secondary",
  "parking",
  "straight stop",
  "curve",
  "fade",
  "hot stop",
  "recovery",
] as const;

/** What exactly is read: which brake, which row of a table. A limit for another thing does not concern a reading. */
export const SELECTORS = {
  fromPressure: nominal("pressure", "pressure at which the clock starts"),
  toPressure: nominal("pressure", "pressure at which the clock stops"),
  nominalSpeed: nominal("speed", "speed from which the stop is to begin"),
  load: choice("load", "loaded", "unloaded"),
  engineCoupling: choice("engine joined to the wheels or not", "connected", "disconnected"),
  test: choice("test of which it is a part", ...TESTS),
  chamber: choice("form of chamber", "clamp", "twoDiaphragm", "bolt", "rotochamber", "unlisted"),
  chamberType: choice("type of chamber", ...TYPES),
  chamberStroke: choice("stroke class of the chamber", "standard", "long", "extraLong"),
  marking: choice("what is marked on a chamber that stands in no table", "rated stroke", "stroke limit"),
  axle: choice("axle", "steering", "other"),
  brake: choice("form of brake", "air drum", "air disc", "hydraulic or electric"),
  lining: choice("form of lining", "continuous strip", "two pads"),
  chamberPressure: nominal("pressure", "pressure in the chamber"),
  inputPressure: range("pressure", "pressure put into the control line"),
  control: choice("what the force acts on", "hand", "foot"),
} as const satisfies KeyRules;

/** Conditions under which a reading must be taken for the limit to mean anything. */
export const CONDITIONS = {
  engine: choice("engine", "running", "off"),
  engineSpeed: choice("engine speed by name", "idle", "operating", "maximum recommended"),
  engineTurning: range("turning", "engine speed"),
  startPressure: range("pressure", "gauge pressure of the reservoirs at the start"),
  startState: choice("reservoirs at the start", "governor cut-in", "governor cut-out", "maker's initial pressure"),
  lineStart: range("pressure", "pressure of the control or supply line at the start"),
  chamberStart: range("pressure", "pressure in the chamber at the start"),
  pedal: choice("pedal", "released", "full", "full in 0.2 s", "as needed"),
  appliedPressure: range("pressure", "pressure put on by the pedal"),
  springBrakes: choice("parking brakes", "released", "applied"),
  trailerSupply: choice("trailer supply", "open", "closed"),
  refilling: flag("reservoirs being filled during the test"),
  firstDropOver: flag("the first drop after the application is over"),
  heldFor: range("time", "how long the state is held"),
  surfacePeak: range("ratio", "peak friction of the surface"),
  brakeTemperature: range("temperature", "temperature of the brakes at the start"),
  air: range("temperature", "temperature of the air"),
  deceleration: range("acceleration", "deceleration that is kept"),
  linePressure: range("pressure", "pressure of the control line"),
  gear: choice("gear", "neutral", "highest"),
  failures: count("failures made on purpose"),
  applications: count("full applications"),
  speedShare: range("ratio", "speed at the start over the one asked for"),
  slope: range("ratio", "slope"),
  adjustment: choice("strokes", "closest", "as found"),
  loadSensing: choice("load sensing valve", "loaded"),
  loading: words("how the vehicle is loaded"),
  clockStart: words("what starts the clock"),
  clockEnd: words("what stops the clock"),
  also: words("anything else"),
} as const satisfies KeyRules;

/** Figures of the vehicle or of the test by which some limits are worked out. */
export const BASES = {
  governorCutOut: "pressure",
  reservoirVolume: "volume",
  requiredReservoirVolume: "volume",
  ratedStroke: "length",
  markedStrokeLimit: "length",
  fastestChamberTime: "time",
  inputPressure: "pressure",
  initialSpeed: "speed",
  minimumNormalPressure: "pressure",
  secondaryPressure: "pressure",
} as const satisfies Readonly<Record<string, QuantityKind>>;

/** Name of such a figure. */
export type BaseName = keyof typeof BASES;

/** Kind of quantity of a base; undefined for a name that is not listed. */
export function kindOfBase(name: string): QuantityKind | undefined {
  return Object.hasOwn(BASES, name) ? BASES[name as BaseName] : undefined;
}
