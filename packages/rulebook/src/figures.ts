import { toSi } from "@brakeyard/units";
import { kindOfUnit } from "./file/printed.ts";
import type { Bounds } from "./file/requirements.ts";
import type { Status } from "./file/schema.ts";
import type { Interval } from "./hold/interval.ts";
import type { Figure } from "./rulebook.ts";

/** A printed number with its standing. */
export interface FigureNumber extends Interval {
  readonly status: Status;
}

/**
 * One of the numbers of a figure, SI; a bare number stays as it is. Both ends are the same for a single number, and infinite on a side
 * that has no bound.
 *
 * @param figure a published figure that limits nothing
 * @param key name among its values
 * @throws RangeError when there is no such number
 */
export function figureNumber(figure: Figure, key: string): FigureNumber {
  const printed = Object.hasOwn(figure.values, key) ? figure.values[key] : undefined;
  if (printed === undefined || typeof printed === "string")
    throw new RangeError(`${figure.id} has no number "${key}"; it has ${Object.keys(figure.values).join(", ")}`);
  if (typeof printed === "number") return { low: printed, high: printed, status: figure.status };
  const si = (value: number): number => toSi(kindOfUnit(printed.unit) ?? "ratio", value, printed.unit ?? "");
  const status = printed.status ?? figure.status;
  if ("value" in printed) return { low: si(printed.value), high: si(printed.value), status };
  return { ...sides(printed, si), status };
}

function sides({ from, above, to, below }: Bounds, si: (value: number) => number): Interval {
  const low = from ?? above;
  const high = to ?? below;
  return {
    low: low === undefined ? Number.NEGATIVE_INFINITY : si(low),
    high: high === undefined ? Number.POSITIVE_INFINITY : si(high),
  };
}
