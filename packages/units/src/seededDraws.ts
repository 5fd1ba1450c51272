import { BitHash } from "./bitHash.ts";

const TWO_32 = 4294967296;
const TWO_21 = 2097152;

function rotated(word: number, left: number): number {
  return (word << left) | (word >>> (32 - left));
}

/** Four words from a seed, never all zero. */
function stateFromSeed(seed: string | number): Int32Array {
  const hash = new BitHash();
  if (typeof seed === "string") hash.addText(seed);
  else hash.addNumber(seed);
  const [a, b] = hash.words();
  const [c, d] = hash.addWord(1).words();
  return Int32Array.of(a, b, c, d | 1);
}

/**
 * Everything in Brakeyard that is left to chance is drawn here: the same seed gives the same draws in every engine.
 * The state is four whole numbers and can be kept.
 *
 * @source [Blackman2021] xoshiro128**, from memory; period 2^128 - 1
 */
export class SeededDraws {
  readonly #s: Int32Array;

  /**
   * @param seed any text or number
   * @throws RangeError for NaN
   */
  constructor(seed: string | number) {
    if (typeof seed === "number" && Number.isNaN(seed))
      throw new RangeError("A seed must be a text or a number, not NaN");
    this.#s = stateFromSeed(seed);
  }

  /** The state, to be kept; the next draw follows from it. */
  state(): readonly number[] {
    return Array.from(this.#s);
  }

  /**
   * Goes on from a state that was kept.
   *
   * @throws RangeError when it is not four whole numbers of 32 bits, at least one of them not zero
   */
  static fromState(state: readonly number[]): SeededDraws {
    const fine = state.length === 4 && state.every((word) => (word | 0) === word) && state.some((word) => word !== 0);
    if (!fine) throw new RangeError("A state of the draws is four whole numbers of 32 bits, not all zero");
    const draws = new SeededDraws(0);
    draws.#s.set(state);
    return draws;
  }

  /** A whole number from 0 to 2^32 - 1. */
  word(): number {
    const s = this.#s;
    const [s0, s1, s2, s3] = s as unknown as readonly [number, number, number, number];
    const result = Math.imul(rotated(Math.imul(s1, 5), 7), 9) >>> 0;
    const t = s1 << 9;
    const u2 = s2 ^ s0;
    const u3 = s3 ^ s1;
    s[1] = s1 ^ u2;
    s[0] = s0 ^ u3;
    s[2] = u2 ^ t;
    s[3] = rotated(u3, 11);
    return result;
  }

  /** A number from 0 up to but not including 1, in steps of 2^-53. */
  fraction(): number {
    const high = this.word();
    const low = this.word() >>> 11;
    return (high * TWO_21 + low) / (TWO_32 * TWO_21);
  }

  /**
   * A number from `low` up to but not including `high`.
   *
   * @throws RangeError unless low <= high, both finite
   */
  between(low: number, high: number): number {
    if (!(low <= high && high - low <= Number.MAX_VALUE)) throw new RangeError(`No number lies from ${low} to ${high}`);
    return Math.min(low + (high - low) * this.fraction(), high);
  }

  /**
   * A whole number from 0 to `count - 1`, each as likely as the others: words from the uneven end are drawn again.
   *
   * @param count whole, 1 to 2^32
   * @throws RangeError outside that range
   */
  below(count: number): number {
    const fine = count >= 1 && count <= TWO_32 && Math.floor(count) === count;
    if (!fine) throw new RangeError(`Drawing needs a whole number of choices from 1 to 2^32, not ${count}`);
    const even = TWO_32 - (TWO_32 % count);
    let word = this.word();
    while (word >= even) word = this.word();
    return word % count;
  }

  /**
   * One of a list, each as likely as the others.
   *
   * @throws RangeError for an empty list
   */
  pick<T>(list: readonly T[]): T {
    return list[this.below(list.length)] as T;
  }
}
