import type { TypicalNumber, Variants } from "./part.ts";
import type { wheelEnd } from "./wheelEnd.ts";

const TABLE_V = "49 CFR 571.121 Table V (from memory)";
const STROKES = "truck maker's stroke table (read) and 49 CFR 571.121 Table V (from memory)";
const SPRINGS =
  "provincial manual p. 158 (read): 1,500 to 2,000 lbf in most; other sizes in proportion to area, common practice, no source";

/** One chamber type: area in2, full stroke in by stroke class, rated volume in3 at standard stroke. */
interface ChamberRow {
  readonly areaIn2: number;
  readonly strokeIn: { readonly standard: number; readonly long?: number; readonly extraLong?: number };
  readonly ratedIn3: number;
}

/**
 * Generic chambers. Rated volume = dead volume + area x full stroke, with 8 to 14 in3 dead in every row.
 * @source 49 CFR 571.121 Table V (areas, standard strokes, volumes: from memory); long strokes: type 30 3.0 in read, others
 * common practice, no source. Type 6 is not in Table V: common practice, no source.
 */
export const CHAMBERS: Readonly<Record<string, ChamberRow>> = {
  "6": { areaIn2: 6, strokeIn: { standard: 1.625 }, ratedIn3: 18 },
  "9": { areaIn2: 9, strokeIn: { standard: 1.75 }, ratedIn3: 25 },
  "12": { areaIn2: 12, strokeIn: { standard: 1.75, long: 2.25 }, ratedIn3: 30 },
  "14": { areaIn2: 14, strokeIn: { standard: 2.25 }, ratedIn3: 40 },
  "16": { areaIn2: 16, strokeIn: { standard: 2.25, long: 2.5 }, ratedIn3: 46 },
  "18": { areaIn2: 18, strokeIn: { standard: 2.25 }, ratedIn3: 50 },
  "20": { areaIn2: 20, strokeIn: { standard: 2.25, long: 2.5, extraLong: 3 }, ratedIn3: 54 },
  "24": { areaIn2: 24, strokeIn: { standard: 2.25, long: 2.5, extraLong: 3 }, ratedIn3: 67 },
  "30": { areaIn2: 30, strokeIn: { standard: 2.5, long: 3 }, ratedIn3: 89 },
  "36": { areaIn2: 36, strokeIn: { standard: 3 }, ratedIn3: 135 },
};

/** Stroke classes made for a chamber type. */
export function strokeClasses(type: string): readonly string[] {
  return Object.keys(CHAMBERS[type]?.strokeIn ?? {});
}

type WheelVariants = Variants<(typeof wheelEnd)["fields"]>;

/** Typical values of a wheel end that follow from its chamber type, stroke class and spring type. */
export function chamberVariants(type: string, stroke: string, springType: string): WheelVariants {
  const row = CHAMBERS[type];
  if (!row) return springVariants(springType);
  const strokeIn = row.strokeIn[stroke as keyof ChamberRow["strokeIn"]] ?? row.strokeIn.standard;
  const ratedIn3 = row.ratedIn3 + row.areaIn2 * (strokeIn - row.strokeIn.standard);
  return {
    area: around(row.areaIn2, 0.97, 1.03, TABLE_V),
    fullStroke: around(strokeIn, 1, 1.2, STROKES),
    ratedVolume: around(ratedIn3, 0.95, 1.1, TABLE_V),
    ...springVariants(springType),
  };
}

function springVariants(springType: string): WheelVariants {
  const area = CHAMBERS[springType]?.areaIn2;
  if (area === undefined) return {};
  const share = area / 30;
  return {
    springForce: { value: 2000 * share, low: 1500 * share, high: 2200 * share, source: SPRINGS },
    springRate: { value: 250 * share, low: 150 * share, high: 350 * share, source: SPRINGS },
  };
}

function around(value: number, down: number, up: number, source: string): TypicalNumber {
  return { value, low: value * down, high: value * up, source };
}
