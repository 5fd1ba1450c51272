import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { SeededDraws } from "./index.ts";

/** xoshiro128** in whole numbers of any size, written from its published description, to compare with. */
function reference(state: readonly number[], count: number): number[] {
  const mask = 0xffffffffn;
  const rotate = (x: bigint, k: bigint): bigint => ((x << k) | (x >> (32n - k))) & mask;
  let [s0, s1, s2, s3] = state.map((word) => BigInt(word) & mask) as [bigint, bigint, bigint, bigint];
  const out: number[] = [];
  for (let i = 0; i < count; i += 1) {
    out.push(Number((rotate((s1 * 5n) & mask, 7n) * 9n) & mask));
    const t = (s1 << 9n) & mask;
    s2 ^= s0;
    s3 ^= s1;
    s1 ^= s2;
    s0 ^= s3;
    s2 ^= t;
    s3 = rotate(s3, 11n);
  }
  return out;
}

describe("draws", () => {
  it("follow the published generator", () => {
    fc.assert(
      fc.property(fc.tuple(fc.integer(), fc.integer(), fc.integer(), fc.integer()), (state) => {
        fc.pre(state.some((word) => word !== 0));
        const draws = SeededDraws.fromState(state);
        expect(Array.from({ length: 20 }, () => draws.word())).toEqual(reference(state, 20));
      }),
    );
  });

  it("start as they always did: stored exercises depend on it", () => {
    const draws = new SeededDraws("Harrow Ridge");
    expect([draws.word(), draws.fraction(), draws.below(6), draws.pick(["a", "b", "c"])]).toMatchInlineSnapshot(`
      [
        4230394637,
        0.7014678649545786,
        3,
        "a",
      ]
    `);
  });

  it("go on from a kept state", () => {
    const draws = new SeededDraws(5);
    draws.word();
    const copy = SeededDraws.fromState(draws.state());
    expect([copy.word(), copy.fraction()]).toEqual([draws.word(), draws.fraction()]);
  });

  it("differ from seed to seed", () => {
    const seeds = [0, 1, -1, 2, "0", "1", "", " "];
    expect(new Set(seeds.map((seed) => new SeededDraws(seed).word())).size).toBe(seeds.length);
  });

  it("fall evenly", () => {
    const draws = new SeededDraws("even");
    const counts = new Array<number>(7).fill(0);
    const trials = 70_000;
    let mean = 0;
    for (let i = 0; i < trials; i += 1) {
      const face = draws.below(7);
      counts[face] = (counts[face] as number) + 1;
      mean += draws.fraction() / trials;
    }
    // Chi-square with 6 degrees of freedom is below 22.5 in 999 of 1,000 cases.
    const chiSquare = counts.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0);
    expect(chiSquare).toBeLessThan(22.5);
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.005);
  });

  it("stay within their range", () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.integer({ min: 1, max: 2 ** 32 }),
        (seed, low, count) => {
          const draws = new SeededDraws(seed);
          const value = draws.between(low, low + 3);
          expect(value >= low && value <= low + 3).toBe(true);
          const whole = draws.below(count);
          expect(Number.isInteger(whole) && whole >= 0 && whole < count).toBe(true);
        },
      ),
    );
  });
});

describe("what is refused", () => {
  it.each([
    ["a seed that is no number", () => new SeededDraws(Number.NaN)],
    ["a state that cannot move", () => SeededDraws.fromState([0, 0, 0, 0])],
    ["a state too short", () => SeededDraws.fromState([1, 2, 3])],
    ["a state that is not whole", () => SeededDraws.fromState([1.5, 2, 3, 4])],
    ["no choices", () => new SeededDraws(1).below(0)],
    ["half a choice", () => new SeededDraws(1).below(2.5)],
    ["an empty list", () => new SeededDraws(1).pick([])],
    ["an upside-down range", () => new SeededDraws(1).between(2, 1)],
  ])("%s", (_name, f) => {
    expect(f).toThrow(RangeError);
  });
});
