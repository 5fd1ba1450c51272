import type {
  applicationPath,
  doubleCheck,
  footValve,
  loadSensing,
  quickReleaseValve,
  relayValve,
} from "../parts/application.ts";
import type { gauge, lowAirWarning, stopLamp } from "../parts/cab.ts";
import type { axle, driveline, engineSpeeds, masses, ratings } from "../parts/chassis.ts";
import type { parkingControl, springBrakeModulatingValve, springPath } from "../parts/parking.ts";
import type { FilledOf } from "../parts/part.ts";
import type * as supply from "../parts/supply.ts";
import type * as towing from "../parts/trailer.ts";
import type { wheelEnd } from "../parts/wheelEnd.ts";
import type { VehicleFile } from "../schema/vehicle.ts";
import type { Quantity } from "../values/resolved.ts";

/** Which service line works an axle. A trailer has one. */
export type ServiceCircuit = "primary" | "secondary" | "service";

export type Wheel = FilledOf<typeof wheelEnd>;

export interface CompleteApplication {
  readonly path: FilledOf<typeof applicationPath>;
  readonly circuit: ServiceCircuit;
  /** What feeds the relay of this axle, when it has one. */
  readonly fedFrom: readonly string[];
  /** Axle whose valve works this one too. */
  readonly shares: string | null;
  readonly relay: FilledOf<typeof relayValve>;
  readonly quickRelease: FilledOf<typeof quickReleaseValve>;
  readonly loadSensing: FilledOf<typeof loadSensing> | null;
}

export interface CompleteBrakes {
  readonly left: Wheel;
  readonly right: Wheel;
  readonly application: CompleteApplication;
}

export interface CompleteAxle {
  readonly id: string;
  readonly title: string;
  readonly steering: boolean;
  readonly driven: boolean;
  readonly values: FilledOf<typeof axle>;
  /** Null when the file declares the axle unbraked. */
  readonly brakes: CompleteBrakes | null;
}

export interface CompleteReservoir {
  readonly id: string;
  readonly title: string;
  readonly role: string;
  readonly fedFrom: readonly string[];
  readonly sharesShellWith: string | null;
  readonly values: FilledOf<typeof supply.reservoir>;
  readonly safetyValve: FilledOf<typeof supply.safetyValve> | null;
}

export interface CompleteAuxiliary {
  readonly id: string;
  readonly title: string;
  readonly kind: "doors" | "suspension" | "other";
  readonly fedFrom: readonly string[];
  readonly values: FilledOf<typeof supply.auxiliary>;
  /** Null when the file says that nothing protects the brakes from it. */
  readonly protection: FilledOf<typeof supply.protectionValve> | null;
}

export type CompleteCompressor =
  | { readonly drive: "engine"; readonly values: FilledOf<typeof supply.engineCompressor> }
  | { readonly drive: "electric"; readonly values: FilledOf<typeof supply.electricCompressor> };

export interface CompleteSupply {
  readonly compressor: CompleteCompressor;
  readonly governor: FilledOf<typeof supply.governor>;
  readonly dischargeLine: FilledOf<typeof supply.dischargeLine>;
  readonly dryer: FilledOf<typeof supply.dryer>;
}

export interface CompleteMultiCircuit {
  readonly fedFrom: readonly string[];
  readonly circuits: readonly { readonly id: string; readonly values: FilledOf<typeof supply.multiCircuit> }[];
}

export interface CompleteFootValve {
  readonly primaryFrom: readonly string[];
  readonly secondaryFrom: readonly string[];
  readonly values: FilledOf<typeof footValve>;
}

export interface CompleteParking {
  readonly fedFrom: readonly string[];
  readonly control: FilledOf<typeof parkingControl>;
  readonly springs: FilledOf<typeof springPath>;
  readonly modulating: FilledOf<typeof springBrakeModulatingValve> | null;
}

export interface CompleteTrailerConnection {
  readonly fedFrom: readonly string[];
  readonly protection: FilledOf<typeof towing.tractorProtection>;
  readonly supplyControl: FilledOf<typeof towing.trailerSupplyControl>;
  readonly handValve: FilledOf<typeof towing.handValve>;
  readonly lines: FilledOf<typeof towing.trailerLines>;
}

export interface CompleteTowed {
  readonly lines: FilledOf<typeof towing.trailerLines>;
  readonly springValve: FilledOf<typeof towing.trailerSpringValve>;
  readonly emergencyValve: FilledOf<typeof towing.emergencyValve>;
}

export interface CompleteCab {
  /** Tanks with a low-air switch. */
  readonly watches: readonly string[];
  readonly lowAir: FilledOf<typeof lowAirWarning>;
  readonly stopLamp: FilledOf<typeof stopLamp>;
  readonly gauges: readonly { readonly id: string; readonly shows: string; readonly values: FilledOf<typeof gauge> }[];
}

/** What only a vehicle that drives itself has. */
export interface CompletePower {
  readonly supply: CompleteSupply;
  readonly multiCircuit: CompleteMultiCircuit | null;
  readonly foot: CompleteFootValve;
  /** Null when no axle has spring brakes. */
  readonly parking: CompleteParking | null;
  readonly connection: CompleteTrailerConnection | null;
  readonly cab: CompleteCab;
}

export interface CompleteAir {
  readonly reservoirs: readonly CompleteReservoir[];
  readonly auxiliaries: readonly CompleteAuxiliary[];
  readonly doubleCheckValves: FilledOf<typeof doubleCheck>;
  readonly power: CompletePower | null;
  readonly towed: CompleteTowed | null;
}

/** Something about the layout that the file does not say and that was taken as usual. */
export interface Assumption {
  readonly path: string;
  readonly text: string;
}

/** A vehicle with every value there, each with its history. */
export interface CompleteVehicle {
  readonly file: VehicleFile;
  readonly id: string;
  readonly title: string;
  readonly kind: VehicleFile["kind"];
  readonly ratings: FilledOf<typeof ratings>;
  readonly masses: FilledOf<typeof masses>;
  readonly wheelbase: Quantity | undefined;
  /** Null when there is no engine. */
  readonly engineSpeeds: FilledOf<typeof engineSpeeds> | null;
  readonly driveline: FilledOf<typeof driveline> & {
    readonly gears: readonly { readonly name: string; readonly ratio: Quantity }[];
  };
  readonly axles: readonly CompleteAxle[];
  /** Null for a trailer without brakes. */
  readonly air: CompleteAir | null;
  readonly assumptions: readonly Assumption[];
}
