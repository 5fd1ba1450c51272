import { toSi } from "@brakeyard/units";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  BASES,
  type Bases,
  CONDITIONS,
  type Conditions,
  FACTS,
  hold,
  holdSet,
  type Interval,
  type KeyRule,
  type Limit,
  publishedIds,
  publishedRulebook,
  type Reading,
  type Requirements,
  SELECTORS,
  type Selected,
  type VehicleFacts,
} from "../src/index.ts";

const limits = publishedIds.flatMap((id) => publishedRulebook(id).limits);
const anyLimit = fc.constantFrom(...limits);

/** What satisfies requirements: their own figures, first choices, days. */
function satisfying(wanted: Requirements, rules: Readonly<Record<string, KeyRule>>): Record<string, unknown> {
  const entries = Object.entries(wanted).map(([key, one]) => [key, satisfier(one, rules[key] as KeyRule)]);
  return Object.fromEntries(entries.filter(([, value]) => value !== undefined));
}

// biome-ignore lint/suspicious/noExplicitAny: every sort of requirement passes through here
function satisfier(wanted: any, rule: KeyRule): unknown {
  const bound = wanted.from ?? wanted.to ?? (wanted.above === undefined ? wanted.below - 1 : wanted.above + 1);
  switch (rule.type) {
    case "choice":
      return Array.isArray(wanted) ? wanted[0] : wanted;
    case "range":
      return toSi(rule.kind, bound, wanted.unit);
    case "nominal":
      return toSi(rule.kind, wanted.value, wanted.unit);
    case "count":
      return typeof wanted === "number" ? wanted : bound;
    case "date":
      return wanted.from ?? String(Number(wanted.before.slice(0, 4)) - 1);
    case "words":
      return undefined;
    default:
      return wanted;
  }
}

/** Facts that satisfy every group of a limit, taking the first alternative of each that the others allow. */
function factsFor(limit: Limit): VehicleFacts {
  const each = limit.appliesTo.map((group) => group.map((one) => satisfying(one, FACTS)));
  const joined = each.reduceRight<Record<string, unknown>[]>(
    (left, right) => left.flatMap((a) => right.map((b) => ({ ...b, ...a }))),
    [{}],
  );
  const reading: Reading = { what: limit.what, value: 0 };
  const fits = (facts: object) =>
    !hold(limit, reading, facts).reasons.some(
      (one) => one.code === "doesNotApply" || one.code === "applicabilityUnknown",
    );
  const found = joined.find(fits);
  if (!found) throw new Error(`no facts for ${limit.id}`);
  return found;
}

const bases = Object.fromEntries(Object.keys(BASES).map((name, i) => [name, 1 + i])) as Bases;

/** A reading that satisfies everything a limit asks for, but for its value. */
function readingFor(limit: Limit, value: number | Interval): Reading {
  return {
    what: limit.what,
    value,
    of: satisfying(limit.of, SELECTORS) as Selected,
    conditions: satisfying(limit.measured, CONDITIONS) as Conditions,
    vouched: true,
    bases,
  };
}

/** Values round where the limit lies, so that all three outcomes come up. */
function near(limit: Limit): fc.Arbitrary<number> {
  const probe = hold(limit, readingFor(limit, 0), factsFor(limit)).room as Interval;
  const at = Math.max(Math.abs(probe.low), Math.abs(probe.high));
  return fc.double({ min: 0, max: 2 * at + 1e-3, noNaN: true });
}

const limitAndValues = anyLimit.chain((limit) => fc.tuple(fc.constant(limit), near(limit), near(limit), near(limit)));

/** The first condition of a limit that is asked for by bounds. */
function rangeKey(limit: Limit): string | undefined {
  return Object.keys(limit.measured).find((key) => CONDITIONS[key as keyof typeof CONDITIONS].type === "range");
}

function without<T extends object>(one: T | undefined, key: string): T {
  return Object.fromEntries(Object.entries(one ?? {}).filter(([name]) => name !== key)) as T;
}

function outcomeOf(limit: Limit, value: number | Interval): string {
  return hold(limit, readingFor(limit, value), factsFor(limit)).outcome;
}

describe("every published limit that is not disputed can be met and can be failed", () => {
  it.each(publishedIds)("in %s", (id) => {
    for (const limit of publishedRulebook(id).limits) {
      if (limit.disputed !== undefined) continue;
      const upper = limit.comparison.startsWith("<");
      expect([limit.id, outcomeOf(limit, upper ? 0 : 1e12)]).toEqual([limit.id, "meets"]);
      expect([limit.id, outcomeOf(limit, upper ? 1e12 : -1)]).toEqual([limit.id, "fails"]);
    }
  });
});

describe("a verdict", () => {
  it("never turns from meets to fails as the reading gets better", () => {
    fc.assert(
      fc.property(limitAndValues, ([limit, a, b]) => {
        const upper = limit.comparison.startsWith("<");
        const [better, worse] = upper === a < b ? [a, b] : [b, a];
        if (outcomeOf(limit, worse) === "meets") expect(outcomeOf(limit, better)).toBe("meets");
        if (outcomeOf(limit, better) === "fails") expect(outcomeOf(limit, worse)).toBe("fails");
      }),
    );
  });

  it("never turns into one as the interval widens, and never into the other one", () => {
    fc.assert(
      fc.property(limitAndValues, ([limit, ...values]) => {
        const [low, middle, high] = [...values].sort((x, y) => x - y) as [number, number, number];
        const narrow = outcomeOf(limit, { low, high: middle });
        const wide = outcomeOf(limit, { low, high });
        expect([narrow, "cannot tell"]).toContain(wide);
      }),
    );
  });

  it("of an interval is that of both its ends where there is one", () => {
    fc.assert(
      fc.property(limitAndValues, ([limit, a, b]) => {
        const whole = outcomeOf(limit, { low: Math.min(a, b), high: Math.max(a, b) });
        const ends = [outcomeOf(limit, a), outcomeOf(limit, b)];
        if (whole !== "cannot tell") expect(ends).toEqual([whole, whole]);
        else if (limit.disputed === undefined && limit.alsoPrinted === undefined) expect(ends[0]).not.toBe(ends[1]);
      }),
    );
  });

  it("is never given while something that the limit asks for is not known", () => {
    fc.assert(
      fc.property(limitAndValues, fc.nat(), ([limit, value], which) => {
        const reading = { ...readingFor(limit, value), vouched: false };
        const asked = [...Object.keys(reading.of ?? {}), ...Object.keys(reading.conditions ?? {})];
        const key = asked[which % Math.max(1, asked.length)];
        if (key === undefined) return;
        const poorer = { ...reading, of: without(reading.of, key), conditions: without(reading.conditions, key) };
        expect(hold(limit, poorer, factsFor(limit)).outcome).toBe("cannot tell");
      }),
    );
  });

  it("never turns into another one when less is known about the vehicle", () => {
    fc.assert(
      fc.property(limitAndValues, fc.nat(), ([limit, value], which) => {
        const facts = factsFor(limit);
        const keys = Object.keys(facts);
        const poorer = without(facts, keys[which % Math.max(1, keys.length)] ?? "");
        expect([outcomeOf(limit, value), "cannot tell"]).toContain(
          hold(limit, readingFor(limit, value), poorer).outcome,
        );
      }),
    );
  });

  it("never comes of a condition that is known less closely", () => {
    const ranged = limits.filter((limit) => rangeKey(limit) !== undefined);
    const share = fc.double({ min: 0, max: 0.5, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...ranged), share, share, share, (limit, shift, less, more) => {
        const key = rangeKey(limit) as string;
        const reading = readingFor(limit, 0);
        const at = (reading.conditions as Record<string, number>)[key] as number;
        const centre = at * (0.8 + shift);
        const within = (spread: number): string => {
          const conditions = {
            ...reading.conditions,
            [key]: { low: centre * (1 - spread), high: centre * (1 + spread) },
          };
          return hold(limit, { ...reading, conditions }, factsFor(limit)).outcome;
        };
        expect([within(less), "cannot tell"]).toContain(within(less + more));
      }),
    );
  });

  it("on several readings never turns from meets to fails as one of them gets better", () => {
    const few = anyLimit.chain((limit) =>
      fc.tuple(fc.constant(limit), fc.array(near(limit), { minLength: 1, maxLength: 6 })),
    );
    fc.assert(
      fc.property(few, fc.double({ min: 0, max: 1, noNaN: true }), ([limit, values], share) => {
        const upper = limit.comparison.startsWith("<");
        const set = (list: readonly number[]) =>
          holdSet(
            limit,
            list.map((value) => readingFor(limit, value)),
            factsFor(limit),
          ).outcome;
        const [first = 0, ...rest] = values;
        const better = upper ? first * share : first * (1 + share);
        if (set(values) === "meets") expect(set([better, ...rest])).toBe("meets");
        if (set([better, ...rest]) === "fails") expect(set(values)).toBe("fails");
      }),
    );
  });

  it("does not hang on the order of the readings", () => {
    const few = anyLimit.chain((limit) =>
      fc.tuple(fc.constant(limit), fc.array(near(limit), { minLength: 2, maxLength: 6 })),
    );
    fc.assert(
      fc.property(few, ([limit, values]) => {
        const set = (list: readonly number[]) =>
          holdSet(
            limit,
            list.map((value) => readingFor(limit, value)),
            factsFor(limit),
          ).outcome;
        expect(set([...values].reverse())).toBe(set(values));
      }),
    );
  });
});
