/** The bits that stand for "not a number" whatever bits an engine uses for it. */
const NAN_HIGH = 0x7ff80000;

function rotated(word: number, left: number): number {
  return (word << left) | (word >>> (32 - left));
}

/** Spreads every bit of a word over the whole word. @source [Appleby2011] final mix of MurmurHash3, from memory */
function spread(word: number): number {
  let w = word;
  w = Math.imul(w ^ (w >>> 16), 0x85ebca6b);
  w = Math.imul(w ^ (w >>> 13), 0xc2b2ae35);
  return w ^ (w >>> 16);
}

function hexOf(word: number): string {
  return (word >>> 0).toString(16).padStart(8, "0");
}

/**
 * A running 64-bit fingerprint of numbers and text, by whole-number operations only. Two traces with the same
 * fingerprint are the same to the last bit, but for a chance of one in 2^64; the sign of zero counts. It guards against
 * accident, not against a forger: records use a cryptographic hash.
 *
 * Numbers are taken by their bits, low word first, so that the fingerprint does not depend on the machine's byte order.
 *
 * @source [Appleby2011] the mixing steps and constants of MurmurHash3, from memory; two crossed lanes are our own
 */
export class BitHash {
  #a = 0x2f0b4a37;
  #b = 0x61c88647;
  #words = 0;
  readonly #double = new Float64Array(1);
  readonly #halves = new Uint32Array(this.#double.buffer);
  readonly #low: number;

  constructor() {
    this.#double[0] = 1;
    this.#low = this.#halves[0] === 0 ? 0 : 1;
  }

  /** The fingerprint's own state as three whole numbers, for {@link resume}. */
  save(): readonly [number, number, number] {
    return [this.#a, this.#b, this.#words];
  }

  /** Goes on from a state that {@link save} gave. */
  resume(a: number, b: number, words: number): this {
    this.#a = a | 0;
    this.#b = b | 0;
    this.#words = words | 0;
    return this;
  }

  /** Takes in one whole number, of which the lowest 32 bits count. */
  addWord(word: number): this {
    const k = Math.imul(rotated(Math.imul(word, 0xcc9e2d51), 15), 0x1b873593);
    this.#a = (Math.imul(rotated(this.#a ^ k, 13), 5) + 0xe6546b64) | 0;
    const j = Math.imul(rotated(Math.imul(word ^ this.#a, 0x239b961b), 17), 0xab0e9789);
    this.#b = (Math.imul(rotated(this.#b ^ j, 19), 5) + 0x561ccd1b) | 0;
    this.#words = (this.#words + 1) | 0;
    return this;
  }

  /** Takes in one number by its bits. */
  addNumber(value: number): this {
    this.#double[0] = value;
    const isNumber = !Number.isNaN(value);
    this.addWord(isNumber ? (this.#halves[this.#low] as number) : 0);
    return this.addWord(isNumber ? (this.#halves[1 - this.#low] as number) : NAN_HIGH);
  }

  /** Takes in numbers in order; how many there are counts too. */
  addNumbers(values: ArrayLike<number>): this {
    this.addWord(values.length);
    for (let i = 0; i < values.length; i += 1) this.addNumber(values[i] as number);
    return this;
  }

  /** Takes in text, by its UTF-16 units; its length counts too. */
  addText(text: string): this {
    this.addWord(text.length);
    for (let i = 0; i < text.length; i += 1) this.addWord(text.charCodeAt(i));
    return this;
  }

  /** Two words of 32 bits for what was taken in so far; more may follow. */
  words(): readonly [number, number] {
    let a = this.#a ^ this.#words;
    let b = this.#b ^ this.#words;
    a = (a + b) | 0;
    b = (b + a) | 0;
    a = spread(a);
    b = spread(b);
    a = (a + b) | 0;
    return [a, (b + a) | 0];
  }

  /** The fingerprint so far as 16 hexadecimal digits. */
  digest(): string {
    const [a, b] = this.words();
    return hexOf(a) + hexOf(b);
  }
}

/** Fingerprint of numbers, by their bits. */
export function hashOfNumbers(values: ArrayLike<number>): string {
  return new BitHash().addNumbers(values).digest();
}

/** Fingerprint of a text. */
export function hashOfText(text: string): string {
  return new BitHash().addText(text).digest();
}
