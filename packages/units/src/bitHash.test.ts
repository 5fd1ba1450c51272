import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BitHash, hashOfNumbers, hashOfText } from "./index.ts";

/** How many of the 64 bits differ. */
function distance(a: string, b: string): number {
  let bits = BigInt(`0x${a}`) ^ BigInt(`0x${b}`);
  let count = 0;
  for (; bits > 0n; bits >>= 1n) count += Number(bits & 1n);
  return count;
}

describe("fingerprints", () => {
  it("stay what they were: stored traces are compared with them", () => {
    expect([
      hashOfText(""),
      hashOfText("yard"),
      hashOfNumbers([]),
      hashOfNumbers([0, 1.5, -2e300]),
    ]).toMatchInlineSnapshot(`
      [
        "0562be7c939ed6c4",
        "3c392894e566f827",
        "0562be7c939ed6c4",
        "dfccef1aad40852f",
      ]
    `);
  });

  it("do not depend on how the numbers were handed over", () => {
    fc.assert(
      fc.property(fc.array(fc.double()), (values) => {
        expect(hashOfNumbers(Float64Array.from(values))).toBe(hashOfNumbers(values));
      }),
    );
  });

  it("tell apart the last bit, the sign of zero, the order, the length and where one text ends", () => {
    const different = [[1], [1 + 2 ** -52], [0], [-0], [1, 2], [2, 1], [0, 0], [], [Number.NaN]];
    expect(new Set(different.map(hashOfNumbers)).size).toBe(different.length);
    const ab = new BitHash().addText("a").addText("bc").digest();
    expect(new BitHash().addText("ab").addText("c").digest()).not.toBe(ab);
  });

  it("treat every bit pattern that is no number alike", () => {
    const odd = new Float64Array(Uint32Array.of(7, 0xfff80001).buffer);
    expect(hashOfNumbers(odd)).toBe(hashOfNumbers([Number.NaN]));
  });

  it("change about half their bits for one bit of input", () => {
    let total = 0;
    const trials = 400;
    for (let i = 0; i < trials; i += 1) {
      const words = [i * 7919, 12345, i];
      const hash = (flip: number): string =>
        new BitHash()
          .addWord(words[0] as number)
          .addWord((words[1] as number) ^ flip)
          .digest();
      total += distance(hash(0), hash(1 << (i % 32)));
    }
    expect(total / trials).toBeGreaterThan(30);
    expect(total / trials).toBeLessThan(34);
  });

  it("do not collide over 200,000 neighbouring inputs", () => {
    const seen = new Set<string>();
    for (let i = 0; i < 200_000; i += 1) seen.add(new BitHash().addNumber(i / 8).digest());
    expect(seen.size).toBe(200_000);
  });
});
