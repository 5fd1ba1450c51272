/**
 * A running fingerprint of a trace: two 32-bit words stirred with every 32-bit half of every number. Integer operations only, so that
 * it is the same everywhere. It finds any changed bit with near certainty; it is not a defence against forgery.
 */
export class TraceHash {
  private readonly numbers = new Float64Array(1);
  private readonly words = new Uint32Array(this.numbers.buffer);
  a = 0x9e3779b9 | 0;
  b = 0x85ebca6b | 0;

  private stir(word: number): void {
    this.a = Math.imul(this.a ^ word, 0x01000193);
    this.a ^= this.a >>> 15;
    this.b = Math.imul((this.b + word) | 0, 0x5bd1e995);
    this.b ^= this.b >>> 13;
  }

  add(value: number): void {
    this.numbers[0] = value;
    this.stir(this.words[0]!);
    this.stir(this.words[1]!);
  }

  text(): string {
    const hex = (n: number): string => (n >>> 0).toString(16).padStart(8, '0');
    return hex(this.a) + hex(this.b);
  }
}
