import { type QuantityKind, toSi } from "@brakeyard/units";
import type { CONDITIONS, FACTS, SELECTORS } from "../words/keys.ts";
import { kindOfThing, type ThingName } from "../words/things.ts";
import type { Bases } from "./bound.ts";
import type { Known } from "./interval.ts";
import type { Given } from "./match.ts";

/** What is known about a vehicle. What is left out is unknown, and a limit that hangs on it cannot be told. */
export interface VehicleFacts extends Given<typeof FACTS> {
  /** Figures of the vehicle by which some limits are worked out, SI. */
  readonly bases?: Bases;
}

/** Which thing exactly: the brake, the row of a table. Quantities in SI. */
export type Selected = Given<typeof SELECTORS>;

/** How a reading was taken. Quantities in SI, pressures above the air around. */
export type Conditions = Given<typeof CONDITIONS>;

/** One reading with what is not known about it. */
export interface Reading {
  readonly what: ThingName;
  /** SI: a number, or the interval in which it lies. Gauge pressures. */
  readonly value: Known;
  readonly of?: Selected;
  readonly conditions?: Conditions;
  /**
   * Whoever took the reading vouches for every condition that `conditions` does not give. The verdict says so. A condition that is
   * given and not met is not mended by it.
   */
  readonly vouched?: boolean;
  /** Figures of this test, SI; they take the place of the vehicle's. */
  readonly bases?: Bases;
}

/**
 * A reading as people write it, in SI.
 *
 * @param what listed name of the thing read
 * @param value the number read
 * @param unit a unit of its kind
 * @param uncertainty how far the true value may be to either side, in the same unit, not below zero
 * @throws RangeError when the unit is of another kind, or a number is none
 */
export function known(what: ThingName | QuantityKind, value: number, unit: string, uncertainty = 0): Known {
  const kind = kindOfThing(what) ?? (what as QuantityKind);
  if (!(uncertainty >= 0)) throw new RangeError(`the uncertainty must not be below zero, not ${uncertainty}`);
  if (uncertainty === 0) return toSi(kind, value, unit);
  return { low: toSi(kind, value - uncertainty, unit), high: toSi(kind, value + uncertainty, unit) };
}
