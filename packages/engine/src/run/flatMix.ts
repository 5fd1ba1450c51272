import type { Mix } from "../model/model.ts";
import { indexOf, type Layout } from "./layout.ts";

/** A linear mix flattened to indices in `x`. */
export interface FlatMix {
  readonly index: Int32Array;
  readonly weight: Float64Array;
  readonly offset: number;
}

export function flattenMix(layout: Layout, m: Mix): FlatMix {
  return {
    index: Int32Array.from(m.terms, (t) => indexOf(layout, t.of)),
    weight: Float64Array.from(m.terms, (t) => t.weight),
    offset: m.offset,
  };
}

export function mixValue(m: FlatMix, x: Float64Array): number {
  let e = m.offset;
  for (let k = 0; k < m.index.length; k++) e += m.weight[k] * x[m.index[k]]!;
  return e;
}
