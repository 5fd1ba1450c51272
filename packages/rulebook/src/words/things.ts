import type { QuantityKind } from "@brakeyard/units";

interface Thing {
  readonly kind: QuantityKind;
  readonly says: string;
}

function thing(kind: QuantityKind, says: string): Thing {
  return { kind, says };
}

/**
 * What can be read and held against a limit. Pressures are gauge pressures. Where two texts start or stop their clocks
 * differently, there are two names: a reading taken one way never meets a limit that is meant the other way.
 */
export const THINGS = {
  buildUpTime: thing("time", "time the reservoirs take to rise from one pressure to another"),
  governorCutIn: thing("pressure", "pressure at which the compressor begins to fill again"),
  governorCutOut: thing("pressure", "pressure at which the compressor stops filling"),
  reservoirToChamberVolume: thing("ratio", "volume of the reservoirs over that of all service chambers"),
  reservoirStrength: thing("pressure", "pressure a reservoir withstands"),
  gaugeError: thing("ratio", "error of a pressure gauge, without sign, over the governor's cut-out"),
  warningPressure: thing("pressure", "pressure at which the low-pressure warning comes on as pressure falls"),
  supplyLineRetention: thing("pressure", "pressure left in the supply line at the forward coupling after a failure"),
  staticLeakRate: thing("pressureRate", "fall of pressure with the brakes released"),
  appliedLeakRate: thing("pressureRate", "fall of pressure with the pedal held down, after the first drop"),
  pressureKept: thing("ratio", "share of reservoir pressure left after one full application"),
  pressureDelivered: thing("ratio", "share of the remaining reservoir pressure that reaches the chambers"),
  pressureBeforeDriving: thing("pressure", "pressure in each service reservoir before driving"),
  trailerEmergencyPressure: thing(
    "pressure",
    "towing vehicle's pressure at which the trailer's brakes apply by themselves",
  ),
  parkingPopOut: thing("pressure", "pressure at which the parking control moves out by itself"),
  breakawayHold: thing("time", "time a trailer that broke away stays braked"),
  serviceStop: thing("distance", "stopping distance by the service brake"),
  emergencyStop: thing("distance", "stopping distance by the emergency brake, one failure present"),
  secondaryStop: thing("distance", "stopping distance by the secondary brake"),
  residualStop: thing("distance", "stopping distance after a failure in the transmission"),
  hotStop: thing("distance", "stopping distance with hot brakes"),
  serviceDeceleration: thing("acceleration", "deceleration by the service brake"),
  secondaryDeceleration: thing("acceleration", "deceleration by the secondary brake"),
  residualDeceleration: thing("acceleration", "deceleration after a failure in the transmission"),
  hotDeceleration: thing("acceleration", "deceleration with hot brakes"),
  parkingDeceleration: thing("acceleration", "deceleration by the parking brake, moving"),
  enduranceDeceleration: thing("acceleration", "deceleration by the endurance brake alone"),
  brakingForceShare: thing("ratio", "braking force over the weight of the vehicle or combination"),
  controlForce: thing("force", "force on the pedal or lever"),
  laneWidth: thing("length", "width of the lane within which every part of the vehicle stays"),
  wheelLockSpeed: thing("speed", "speed at which a wheel locks for longer than a moment"),
  applyTime: thing("time", "first movement of the control to 60 psi in the chamber"),
  couplingApplyTime: thing("time", "first movement of the control to 60 psi in a 50 in3 vessel at the coupling"),
  releaseTime: thing("time", "first movement of the control to 5 psi in the chamber"),
  couplingReleaseTime: thing("time", "first movement of the control to 5 psi in a 50 in3 vessel at the coupling"),
  signalDifference: thing("pressure", "difference between input and output of the control line, without sign"),
  responseTime: thing("time", "start of pedal movement to 75 % of the final pressure in the least favoured cylinder"),
  couplingTenthTime: thing(
    "time",
    "start of pedal movement to 10 % of the final pressure at the control line coupling",
  ),
  couplingResponseTime: thing(
    "time",
    "start of pedal movement to 75 % of the final pressure at the control line coupling",
  ),
  trailerResponseTime: thing("time", "65 kPa in the control line to 75 % of the final pressure in the actuator"),
  retardationShare: thing("ratio", "retarding force of a towed vehicle's brakes over the sum of its axle ratings"),
  linePressure: thing("pressure", "service line pressure that a stop of the brake test needs"),
  parkingForceShare: thing("ratio", "static retarding force of the parking brake over the rating"),
  gradeHeld: thing("ratio", "slope on which the parking brake holds"),
  parkingApplyTime: thing("time", "movement of the parking control to the springs acting"),
  pushrodStroke: thing("length", "applied stroke of a chamber's rod"),
  shoeMovement: thing("length", "combined movement of the shoes of a wedge brake"),
  liningThickness: thing("length", "thickness of a lining or pad where the text says"),
  automaticAdjusterShare: thing("ratio", "share of the brakes that adjust themselves"),
  strokeIndicatorShare: thing("ratio", "share of the brakes with external adjusters that have an indicator"),
  antilockShare: thing("ratio", "antilock as the text asks for it: all there is 1, nothing there is 0"),
  hotShareOfPrescribed: thing("ratio", "performance with hot brakes over the prescribed one"),
  hotShareOfOwn: thing("ratio", "performance with hot brakes over the vehicle's own with cold ones, type 0"),
  wheelLoadShare: thing("ratio", "braking force of a trailer over the largest load on its wheels, standing"),
  pressureAfterApplications: thing("pressure", "pressure left after eight full applications without refill"),
  couplingAfterApplications: thing("ratio", "control line pressure after eight applications over that of the first"),
  actuatorAfterApplications: thing(
    "ratio",
    "trailer actuator pressure after eight applications over that of the first",
  ),
  chargeTimeToPart: thing("time", "time to fill from empty to 65 % of the pressure at which filling stops"),
  chargeTimeToFull: thing("time", "time to fill from empty to the pressure at which filling stops"),
  auxiliaryChargeTime: thing("time", "the same for the least favoured main reservoir, auxiliaries filling too"),
  springActingPressure: thing("pressure", "pressure at which the springs begin to brake"),
} as const satisfies Record<string, Thing>;

/** Name of a thing that can be read; a rulebook may add its own, beginning with `own.`. */
export type ThingName = keyof typeof THINGS | `own.${string}`;

/** Kind of quantity of a listed thing; undefined for a name that is not listed. */
export function kindOfThing(name: string): QuantityKind | undefined {
  return Object.hasOwn(THINGS, name) ? THINGS[name as keyof typeof THINGS].kind : undefined;
}
