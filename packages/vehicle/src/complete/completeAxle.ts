import { toSi } from "@brakeyard/units";
import { circuitOf, feedersOf } from "../check/layout.ts";
import { applicationPath, DEFAULT_PATH, loadSensing, quickReleaseValve, relayValve } from "../parts/application.ts";
import { chamberVariants } from "../parts/chambers.ts";
import { axle as axlePart } from "../parts/chassis.ts";
import { fillPart, PRACTICE, type Variants } from "../parts/part.ts";
import { wheelEnd } from "../parts/wheelEnd.ts";
import type { AirFile, AxleFile, BrakesFile, VehicleFile } from "../schema/vehicle.ts";
import type { CompleteApplication, CompleteAxle, CompleteBrakes, Wheel } from "./complete.ts";

/** One axle with everything there. */
export function completeAxle(file: VehicleFile, axle: AxleFile): CompleteAxle {
  const { id, title = capitalised(id), steering = false, driven = false, brakes } = axle;
  const complete = file.air && brakes ? completeBrakes(file, file.air, axle, brakes) : null;
  return { id, title, steering, driven, values: fillPart(axlePart, axle), brakes: complete };
}

/** `driveFront` or `rear-2` as a label: `Drive front`, `Rear 2`. */
export function capitalised(id: string): string {
  const words = id.replace(/-/g, " ").replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}

function completeBrakes(file: VehicleFile, air: AirFile, axle: AxleFile, brakes: BrakesFile): CompleteBrakes {
  return {
    left: completeWheel(brakes, brakes.left),
    right: completeWheel(brakes, brakes.right),
    application: completeApplication(file, air, axle, brakes),
  };
}

type WheelGiven = Partial<Omit<BrakesFile, "left" | "right" | "application">>;

function completeWheel(both: WheelGiven, side: WheelGiven = {}): Wheel {
  const given = { ...both, ...side };
  const type = given.chamberType?.value ?? "other";
  const stroke = given.chamberStroke?.value ?? "standard";
  const variants = chamberVariants(type, stroke, given.springType?.value ?? "none");
  const disc = given.foundation?.value === "disc" ? DISC : {};
  return fillPart(wheelEnd, given, { ...variants, ...disc });
}

/** What is typical of a disc brake instead: an enclosed lever of about 16 to 1 and a shorter free stroke. */
const DISC: Variants<(typeof wheelEnd)["fields"]> = {
  freeStroke: { value: 0.5, low: 0.35, high: 0.7, source: PRACTICE },
  stiffness: { value: 430, low: 350, high: 600, source: PRACTICE },
  arm: { value: 2.85, low: 2.7, high: 3.1, source: PRACTICE },
  camRadius: { value: 4.6, low: 4.2, high: 5.2, source: PRACTICE },
  efficiency: { value: 0.93, low: 0.9, high: 0.96, source: PRACTICE },
  drumDiameter: { value: 17, low: 16, high: 17.3, source: PRACTICE },
  liningWidth: { value: 3.5, low: 3, high: 4, source: PRACTICE },
};

function completeApplication(file: VehicleFile, air: AirFile, axle: AxleFile, brakes: BrakesFile): CompleteApplication {
  const given = brakes.application ?? {};
  const circuit = circuitOf(file, axle);
  return {
    path: fillPart(applicationPath, given, pathVariants(file, axle)),
    circuit,
    fedFrom: relayFeeders(file, air, circuit, given.fedFrom),
    shares: given.shares ?? null,
    relay: fillPart(relayValve, given.relay, relayVariants(file, axle)),
    quickRelease: fillPart(quickReleaseValve, given.quickRelease),
    loadSensing: given.loadSensing ? fillPart(loadSensing, given.loadSensing) : null,
  };
}

function relayFeeders(file: VehicleFile, air: AirFile, circuit: string, said: string | undefined): readonly string[] {
  if (said !== undefined) return [said];
  if (circuit === "service")
    return air.reservoirs
      .filter((one) => one.role === "trailer")
      .slice(0, 1)
      .map((one) => one.id);
  return feedersOf(file, air, `footValve.${circuit}`).feeders;
}

/** Conductance that a relay needs for each chamber behind it, dm3/(s bar): 4.2 and 14 for the two of a bus. */
const APPLY_PER_CHAMBER = 2.1;
const EXHAUST_PER_CHAMBER = 7;

/** A relay that works a tandem is a larger one: its conductance goes with the chambers behind it. */
function relayVariants(file: VehicleFile, axle: AxleFile): Variants<(typeof relayValve)["fields"]> {
  const chambers = 2 * (1 + file.axles.filter((one) => one.brakes?.application?.shares === axle.id).length);
  const around = (each: number) => ({
    value: each * chambers,
    low: 0.7 * each * chambers,
    high: 1.6 * each * chambers,
  });
  return {
    apply: { ...around(APPLY_PER_CHAMBER), source: DEFAULT_PATH },
    exhaust: { ...around(EXHAUST_PER_CHAMBER), source: DEFAULT_PATH },
  };
}

type PathVariants = Variants<(typeof applicationPath)["fields"]>;

/** A steering axle is near the foot valve and needs no relay; the line to the others is as long as the vehicle, a trailer's but short. */
function pathVariants(file: VehicleFile, axle: AxleFile): PathVariants {
  if (axle.steering && file.kind !== "trailer") {
    return {
      via: { value: "quickRelease", alternatives: ["relay", "direct"], source: PRACTICE },
      controlBore: { value: 9.5, low: 8, high: 10, source: PRACTICE },
    };
  }
  if (file.kind === "trailer") {
    // The service line already runs the length of the trailer; its relays hang near the axles.
    return {
      controlLength: { value: 1, low: 0.5, high: 4, source: PRACTICE },
      controlBore: { value: 9.5, low: 6, high: 10, source: PRACTICE },
    };
  }
  const reachM = 2.5 + distanceM(file, axle);
  return {
    controlLength: { value: reachM, low: 0.7 * reachM, high: 1.5 * reachM, source: PRACTICE },
    controlBore: { value: 6.35, low: 5, high: 9.5, source: PRACTICE },
  };
}

/** How far behind the first axle, m: from its position, else the wheelbase, else 5.5 m. */
function distanceM(file: VehicleFile, axle: AxleFile): number {
  const said = axle.position ?? file.wheelbase;
  return said ? toSi("length", said.value, said.unit) : 5.5;
}
