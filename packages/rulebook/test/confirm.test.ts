import { describe, expect, it } from "vitest";
import { hold, loadConfirmations, publishedRulebook, type Rulebook, unconfirmed, verdictText } from "../src/index.ts";
import { BUS, limitOf } from "../test-support/facts.ts";

const federal = publishedRulebook("us-federal");
const ID = "121.S5.3.4.chamber/truck-bus";

// biome-ignore lint/suspicious/noExplicitAny: files are broken here on purpose
type Broken = any;

function file(breaking: (file: Broken) => void = () => {}): string {
  const whole = {
    format: "brakeyard-confirmations",
    version: 1,
    rulebook: "us-federal",
    confirmations: [
      { limit: ID, figure: "<= 0.55 s", who: "A. Keller, workshop", when: "2026-02-03", copy: "printed code, shelf 2" },
    ],
  };
  breaking(whole);
  return JSON.stringify(whole);
}

function confirmed(): Rulebook {
  const loaded = loadConfirmations(file(), federal);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
  return loaded.rulebook;
}

describe("a confirmation", () => {
  const reading = { what: "releaseTime", value: 0.5, vouched: true } as const;

  it("shows in the verdict, which still says that the figure was from memory", () => {
    const verdict = hold(limitOf(confirmed(), ID), reading, BUS);
    expect(verdict).toMatchObject({ outcome: "meets", fromMemory: true, confirmed: { who: "A. Keller, workshop" } });
    expect(verdictText(verdict)).toMatch(
      /from memory, confirmed by A\. Keller, workshop, 2026-02-03, against printed code, shelf 2/,
    );
  });

  it("takes the limit off the list of those that nobody confirmed", () => {
    const open = (book: Rulebook) => unconfirmed([hold(limitOf(book, ID), reading, BUS)]).length;
    expect([open(federal), open(confirmed())]).toEqual([1, 0]);
  });

  it("changes nothing else, and not the rulebook handed over", () => {
    expect(federal.limits.some((one) => one.confirmed)).toBe(false);
    const others = confirmed().limits.filter((one) => one.id !== ID);
    expect(others).toEqual(federal.limits.filter((one) => one.id !== ID));
  });
});

describe("confirmations are refused", () => {
  it.each<[string, (file: Broken) => void, string, RegExp]>([
    ["for another rulebook", (f) => (f.rulebook = "ontario"), "$.rulebook", /"ontario", not for "us-federal"/],
    [
      "for a limit that is not there",
      (f) => (f.confirmations[0].limit = "121.gone"),
      "$.confirmations[0].limit",
      /has no limit/,
    ],
    [
      "for a figure that has changed",
      (f) => (f.confirmations[0].figure = "<= 0.5 s"),
      "$.confirmations[0].figure",
      /the rulebook has "<= 0\.55 s"/,
    ],
    ["given twice", (f) => f.confirmations.push(f.confirmations[0]), "$.confirmations[1].limit", /twice/],
    ["without who", (f) => delete f.confirmations[0].who, "$.confirmations[0].who", /missing/],
    ["without a day", (f) => (f.confirmations[0].when = "yesterday"), "$.confirmations[0].when", /not a date/],
    ["without the copy", (f) => (f.confirmations[0].copy = ""), "$.confirmations[0].copy", /stands here/],
    ["of another format", (f) => (f.format = "brakeyard-rulebook"), "$.format", /stands here/],
    ["of a newer version", (f) => (f.version = 2), "$.version", /reads up to 1/],
  ])("%s", (_what, breaking, path, message) => {
    const loaded = loadConfirmations(file(breaking), federal);
    if (loaded.ok) throw new Error("accepted");
    expect(loaded.problems.map((one) => one.path)).toEqual([path]);
    expect(loaded.problems[0]?.message).toMatch(message);
  });

  it("when the file is no JSON", () => {
    expect(loadConfirmations("{", federal)).toMatchObject({ ok: false, problems: [{ path: "line 1, column 2" }] });
  });
});
