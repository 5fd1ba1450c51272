import type { StrokeLaw, WallHeat } from "../model/model.ts";
import type { Network, Port } from "./shared.ts";

/**
 * Brake chamber on its foundation brake. Static stroke:
 *
 *     0 below the threshold; free stroke taken up between threshold and contact; then (A p - A p_contact) / stiffness; to the stop.
 *
 * @source [PhysicsAir] 3.2 areas and volumes, 3.4 stroke law
 */
export interface BrakeChamberParams {
  readonly areaM2: number;
  readonly deadVolumeM3: number;
  readonly fullStrokeM: number;
  readonly thresholdPa: number;
  readonly contactPa: number;
  readonly freeStrokeM: number;
  /** Stiffness of the foundation brake seen at the rod, N/m. */
  readonly stiffnessNPerM: number;
  readonly returnSpring: { readonly preloadN: number; readonly rateNPerM: number };
  readonly heat: WallHeat;
  readonly spring?: SpringChamberParams;
}

/** Power spring behind the service chamber: force at zero stroke less rate times stroke. @source [PhysicsAir] 3.6 */
export interface SpringChamberParams {
  readonly areaM2: number;
  readonly deadVolumeM3: number;
  readonly forceN: number;
  readonly rateNPerM: number;
  readonly heat: WallHeat;
}

export function strokeLaw(params: BrakeChamberParams): StrokeLaw {
  const { areaM2: a, freeStrokeM: free, fullStrokeM: full } = params;
  if (!(params.thresholdPa < params.contactPa)) throw new RangeError("contact pressure must lie above the threshold");
  if (free >= full) return { forceN: [a * params.thresholdPa, a * params.contactPa], strokeM: [0, full] };
  const contact = a * params.contactPa;
  return {
    forceN: [a * params.thresholdPa, contact, contact + params.stiffnessNPerM * (full - free)],
    strokeM: [0, free, full],
  };
}

export function addBrakeChamber(
  net: Network,
  name: string,
  params: BrakeChamberParams,
): { service: Port; spring: Port | undefined } {
  const { spring } = params;
  return net.chamber(name, {
    areaM2: params.areaM2,
    law: strokeLaw(params),
    returnSpring: params.returnSpring,
    deadVolumeM3: params.deadVolumeM3,
    heat: params.heat,
    ...(spring
      ? {
          spring: {
            areaM2: spring.areaM2,
            forceN: spring.forceN,
            rateNPerM: spring.rateNPerM,
            maximumStrokeM: params.fullStrokeM,
            deadVolumeM3: spring.deadVolumeM3,
            heat: spring.heat,
          },
        }
      : {}),
  });
}
