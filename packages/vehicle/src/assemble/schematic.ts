/**
 * The picture of a vehicle's own air system as plain data: which parts there are, which pipes join them, and which channels of the
 * model show what happens there. Where things stand on the page is the screen's business.
 */

/** Circuits as they are told apart in pictures. */
export type Circuit = "supply" | "primary" | "secondary" | "parking" | "auxiliary" | "trailerSupply" | "trailerService";

export type PartKind =
  | "compressor"
  | "electricCompressor"
  | "governor"
  | "dryer"
  | "reservoir"
  | "checkValve"
  | "safetyValve"
  | "protectionValve"
  | "multiCircuitValve"
  | "auxiliaryLoad"
  | "footValve"
  | "relayValve"
  | "quickRelease"
  | "doubleCheck"
  | "loadSensing"
  | "modulator"
  | "parkingControl"
  | "trailerSupplyControl"
  | "springBrakeModulatingValve"
  | "tractorProtection"
  | "handValve"
  | "coupling"
  | "cutOutCock"
  | "serviceChamber"
  | "springChamber"
  | "lowAirSwitch"
  | "trailerRelay"
  | "trailerSpringValve"
  | "emergencyValve"
  | "testRig"
  | "junction"
  | "drain";

/** A fact to show beside a part, as it was written; `typical` when it does not come from the vehicle itself. */
export interface SchematicFact {
  readonly text: string;
  readonly typical: boolean;
}

/** One part. Ports are numbered after ISO 6786 (1 in, 2 out, 3 exhaust, 4 control; 11, 21 ... where there are several). */
export interface SchematicPart {
  readonly id: string;
  readonly kind: PartKind;
  readonly label: string;
  readonly circuit: Circuit;
  readonly unit: "power" | "trailer";
  readonly axle?: string;
  readonly side?: "left" | "right";
  /** Port number to the channel of the pressure there. */
  readonly ports: Readonly<Record<string, { readonly pressure?: string }>>;
  /** What the part is doing: channel ids by name (stroke, rodForce, position, exhaust flow ...). */
  readonly channels: Readonly<Record<string, string>>;
  readonly facts: Readonly<Record<string, SchematicFact>>;
}

/** A pipe or a signal line between two ports. */
export interface SchematicLine {
  readonly id: string;
  readonly from: { readonly part: string; readonly port: string };
  readonly to: { readonly part: string; readonly port: string };
  readonly circuit: Circuit;
  readonly role: "pipe" | "signal";
  readonly pressure?: string;
  /** Channel of the flow, kg/s, positive from `from` to `to`. */
  readonly flow?: string;
}

export interface Schematic {
  readonly parts: readonly SchematicPart[];
  readonly lines: readonly SchematicLine[];
}
