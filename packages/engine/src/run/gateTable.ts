import type { EngineModel, Gate, Mix } from "../model/model.ts";
import { indexOf, type Layout } from "./layout.ts";

/** Slots a gate has: four in its own mix, then two and two in the pair whose greater one counts. */
export const GATE_SLOTS = 8;

export interface GateTable {
  /** How many of a gate's own four slots are taken. */
  readonly terms: Int32Array;
  /** First gate of each orifice; one entry more than there are orifices. */
  readonly start: Int32Array;
  readonly index: Int32Array;
  readonly weight: Float64Array;
  readonly offset: Float64Array; // three per gate: own, first, second
  /** 0 for a gate without a pair, else the sign with which the greater one counts. */
  readonly pairSign: Int8Array;
  readonly inverseWidth: Float64Array;
}

/** All seats of a vehicle as columns. */
export function gateTable(model: EngineModel, layout: Layout): GateTable {
  const all: Gate[] = [];
  const start = [0];
  for (const orifice of model.orifices) {
    all.push(...orifice.gates);
    start.push(all.length);
  }
  const index = new Int32Array(all.length * GATE_SLOTS).fill(layout.atmosphere);
  const weight = new Float64Array(all.length * GATE_SLOTS);
  const offset = new Float64Array(all.length * 3);
  const pairSign = new Int8Array(all.length);
  const place = (gate: number, slot: number, room: number, part: Mix, offsetSlot: number): void => {
    if (part.terms.length > room)
      throw new RangeError(`a seat may listen to ${room} signals here, not ${part.terms.length}`);
    part.terms.forEach((t, k) => {
      index[gate * GATE_SLOTS + slot + k] = indexOf(layout, t.of);
      weight[gate * GATE_SLOTS + slot + k] = t.weight;
    });
    offset[gate * 3 + offsetSlot] = part.offset;
  };
  all.forEach((gate, g) => {
    place(g, 0, 4, gate.mix, 0);
    if (gate.greatest) {
      pairSign[g] = gate.sign ?? 1;
      place(g, 4, 2, gate.greatest[0], 1);
      place(g, 6, 2, gate.greatest[1], 2);
    }
  });
  const terms = Int32Array.from(all, (g) => g.mix.terms.length);
  return {
    terms,
    start: Int32Array.from(start),
    index,
    weight,
    offset,
    pairSign,
    inverseWidth: Float64Array.from(all, (g) => 1 / g.width),
  };
}
