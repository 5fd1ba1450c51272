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

  it("never turns into one, or into another one, when less is known", () => {
    fc.assert(
      fc.property(limitAndValues, fc.integer({ min: 0, max: 40 }), ([limit, value], which) => {
        const full = hold(limit, readingFor(limit, value), factsFor(limit)).outcome;
        const reading = { ...readingFor(limit, value), vouched: false };
        const lists = [
          Object.keys(factsFor(limit)),
          Object.keys(reading.of ?? {}),
          Object.keys(reading.conditions ?? {}),
        ];
        const key = lists.flat()[which % Math.max(1, lists.flat().length)] ?? "";
        const without = (one: object): object =>
          Object.fromEntries(Object.entries(one).filter(([name]) => name !== key));
        const poorer: Reading = {
          ...reading,
          of: without(reading.of ?? {}),
          conditions: without(reading.conditions ?? {}),
        };
        expect([full, "cannot tell"]).toContain(hold(limit, poorer, without(factsFor(limit))).outcome);
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
