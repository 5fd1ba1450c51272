import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LONGEST_TEXT, loadRulebook, publishedIds, publishedRulebook } from "../src/index.ts";
import { readJson } from "../src/text/readJson.ts";

const stored = readFileSync(join(import.meta.dirname, "..", "examples", "rulebook-version-1.json"), "utf8");

// biome-ignore lint/suspicious/noExplicitAny: files are broken here on purpose
type Broken = any;

function refusal(breaking: (file: Broken) => void) {
  const file: Broken = JSON.parse(stored);
  breaking(file);
  const loaded = loadRulebook(JSON.stringify(file));
  return loaded.ok ? [] : loaded.problems;
}

describe("a rulebook file is accepted", () => {
  it("of version 1, as stored", () => {
    expect(loadRulebook(stored)).toMatchObject({ ok: true, rulebook: { id: "harrow-ridge" } });
  });

  it("with a byte order mark and with Windows line ends", () => {
    expect(loadRulebook(`\uFEFF${stored.replace(/\n/g, "\r\n")}`).ok).toBe(true);
  });

  it("with one limit for every row, the row's own fields first", () => {
    const loaded = loadRulebook(stored);
    const rows = loaded.ok ? loaded.rulebook.limits.filter((one) => one.id.startsWith("stroke/")) : [];
    expect(rows.map((one) => one.id)).toEqual(["stroke/24", "stroke/30"]);
    expect(rows[1]).toMatchObject({
      of: { chamber: "clamp", chamberStroke: "standard", chamberType: "30" },
      value: { value: 45, unit: "mm" },
      quantity: "length",
      edition: "third issue",
      date: "2025-03-10",
      sources: [{ id: "Y4" }],
    });
  });
});

/** What is broken, the place that must be named, and words of the message and the remedy. */
const cases: [what: string, breaking: (file: Broken) => void, path: string, message: RegExp, remedy: RegExp][] = [
  [
    "another format",
    (f) => (f.format = "brakeyard-vehicle"),
    "$.format",
    /"brakeyard-vehicle" stands here/,
    /"brakeyard-rulebook"/,
  ],
  ["no version", (f) => delete f.version, "$.version", /missing/, /1 to 1/],
  ["half a version", (f) => (f.version = 1.5), "$.version", /1\.5/, /whole number/],
  [
    "a newer version",
    (f) => (f.version = 2),
    "$.version",
    /version 2; this Brakeyard reads up to 1/,
    /newer Brakeyard/,
  ],
  ["an unknown key", (f) => (f.limits[0].valeu = 1), "$.limits[0].valeu", /unknown key/, /value/],
  ["no title", (f) => (f.title = " "), "$.title", /" " stands here/, /1 to 120/],
  ["limits as an object", (f) => (f.limits = {}), "$.limits", /an object stands here/, /a list/],
  ["no clause", (f) => delete f.limits[0].clause, "$.limits[0].clause", /missing/, /text/],
  ["a strange id", (f) => (f.limits[0].id = "a b"), "$.limits[0].id", /cannot be a name/, /short name/],
  ["an id given twice", (f) => (f.limits[1].id = "applied-leak"), "$.limits[1].id", /stands twice/, /name of its own/],
  [
    "a row given twice",
    (f) => (f.limits[1].rows[1].id = "24"),
    "$.limits[1].rows[1].id",
    /stands twice/,
    /name of its own/,
  ],
  [
    "a text that is not there",
    (f) => (f.limits[0].text = "gone"),
    "$.limits[0].text",
    /no text is called "gone"/,
    /"yard"/,
  ],
  [
    "a source that is not there",
    (f) => (f.limits[0].sources = ["S9"]),
    "$.limits[0].sources[0]",
    /no source is called "S9"/,
    /"sources"/,
  ],
  [
    "read, but not where",
    (f) => delete f.limits[0].sources,
    "$.limits[0].sources",
    /read, but not where/,
    /"from memory"/,
  ],
  [
    "a row read, but not where",
    (f) => {
      f.limits[2].rows = [{ id: "a", value: f.limits[2].value, status: "read" }];
      delete f.limits[2].value;
    },
    "$.limits[2].rows[0].sources",
    /not where/,
    /source/,
  ],
  [
    "another status",
    (f) => (f.limits[0].status = "derived"),
    "$.limits[0].status",
    /"derived" is not one/,
    /"read" or "from memory"/,
  ],
  ["another comparison", (f) => (f.limits[0].comparison = "="), "$.limits[0].comparison", /"="/, /">="/],
  ["an unknown thing", (f) => (f.limits[0].what = "leak"), "$.limits[0].what", /"leak" stands here/, /own\./],
  [
    "a name like a built-in one",
    (f) => (f.limits[0].what = "constructor"),
    "$.limits[0].what",
    /"constructor"/,
    /own\./,
  ],
  [
    "an own thing without its kind",
    (f) => delete f.limits[2].quantity,
    "$.limits[2].quantity",
    /missing/,
    /kind of quantity/,
  ],
  [
    "a listed thing with a kind",
    (f) => (f.limits[0].quantity = "pressure"),
    "$.limits[0].quantity",
    /known/,
    /leave the key out/,
  ],
  ["a date that is none", (f) => (f.texts[0].date = "10.3.2025"), "$.texts[0].date", /not a date/, /2016-05-14/],
  ["no date", (f) => delete f.texts[0].date, "$.texts[0].date", /missing/, /2016/],
  [
    "a figure as text",
    (f) => (f.limits[0].value.value = "2"),
    "$.limits[0].value.value",
    /"2" is not a number/,
    /without quotes/,
  ],
  ["a bare figure", (f) => (f.limits[0].value = 2), "$.limits[0].value", /2 stands here/, /"unit": "psi"/],
  ["no unit", (f) => delete f.limits[0].value.unit, "$.limits[0].value.unit", /unit is missing/, /psi\/min/],
  [
    "a unit of another kind",
    (f) => (f.limits[0].value.unit = "psi"),
    "$.limits[0].value.unit",
    /"psi" is not a unit for this/,
    /"kPa\/min"/,
  ],
  [
    "a unit of another kind in a row",
    (f) => (f.limits[1].rows[0].value.unit = "psi"),
    "$.limits[1].rows[0].value.unit",
    /"psi"/,
    /"in"/,
  ],
  [
    "a second print of another kind",
    (f) => (f.limits[0].alsoPrinted = { value: 14, unit: "kPa" }),
    "$.limits[0].alsoPrinted.unit",
    /"kPa"/,
    /kPa\/min/,
  ],
  [
    "a figure and rows",
    (f) => (f.limits[1].value = { value: 1, unit: "in" }),
    "$.limits[1]",
    /a figure and rows/,
    /"rows"/,
  ],
  ["neither figure nor rows", (f) => delete f.limits[0].value, "$.limits[0]", /neither/, /"value"/],
  [
    "a multiple of another kind",
    (f) => (f.limits[0].value = { factor: 5, of: "governorCutOut" }),
    "$.limits[0].value.of",
    /"governorCutOut"/,
    /no figure of this kind/,
  ],
  [
    "a multiple of nothing",
    (f) => (f.limits[1].rows[0].value = { factor: 0.8, of: "stroke" }),
    "$.limits[1].rows[0].value.of",
    /"stroke"/,
    /"ratedStroke"/,
  ],
  [
    "a negative factor",
    (f) => (f.limits[1].rows[0].value = { factor: -1, of: "ratedStroke" }),
    "$.limits[1].rows[0].value.factor",
    /not above zero/,
    /above zero/,
  ],
  [
    "a proportion of unlike things",
    (f) => (f.limits[2].value = { value: 1, unit: "s", times: "reservoirVolume", over: "governorCutOut" }),
    "$.limits[2].value.over",
    /"governorCutOut"/,
    /"requiredReservoirVolume"/,
  ],
  [
    "the lesser of one",
    (f) => (f.limits[0].value = { lesserOf: [] }),
    "$.limits[0].value.lesserOf",
    /a list stands here/,
    /two figures or more/,
  ],
  [
    "the lesser of unlike things",
    (f) =>
      (f.limits[0].value = {
        lesserOf: [
          { value: 1, unit: "psi/min" },
          { value: 1, unit: "s" },
        ],
      }),
    "$.limits[0].value.lesserOf[1].unit",
    /"s"/,
    /psi\/min/,
  ],
  [
    "a formula without its divisor",
    (f) => (f.limits[0] = { ...f.limits[0], what: "serviceStop", value: { linear: 0.15, speed: "km/h", unit: "m" } }),
    "$.limits[0].value.over",
    /missing/,
    /number/,
  ],
  [
    "a formula with an odd speed",
    (f) =>
      (f.limits[0] = {
        ...f.limits[0],
        what: "serviceStop",
        value: { linear: 0.15, over: 130, speed: "m", unit: "m" },
      }),
    "$.limits[0].value.speed",
    /"m"/,
    /"km\/h"/,
  ],
  [
    "an unknown condition",
    (f) => (f.limits[0].measured.wind = 0),
    "$.limits[0].measured.wind",
    /unknown key/,
    /engine/,
  ],
  [
    "a name like a built-in one as a condition",
    (f) => (f.limits[0].measured.constructor = 0),
    "$.limits[0].measured.constructor",
    /unknown key/,
    /engine/,
  ],
  [
    "a condition of another word",
    (f) => (f.limits[0].measured.engine = "warm"),
    "$.limits[0].measured.engine",
    /"warm"/,
    /"running" or "off"/,
  ],
  [
    "bounds without a bound",
    (f) => (f.limits[0].measured.startPressure = { unit: "psi" }),
    "$.limits[0].measured.startPressure",
    /no bound/,
    /"from": 1/,
  ],
  [
    "bounds the wrong way round",
    (f) => (f.limits[0].measured.startPressure = { from: 9, to: 8, unit: "psi" }),
    "$.limits[0].measured.startPressure",
    /9 is above 8/,
    /lower bound first/,
  ],
  [
    "a flag in quotes",
    (f) => (f.limits[0].measured.firstDropOver = "true"),
    "$.limits[0].measured.firstDropOver",
    /"true" stands here/,
    /true or false/,
  ],
  ["nobody it applies to", (f) => (f.limits[0].appliesTo = []), "$.limits[0].appliesTo", /too short/, /at least 1/],
  [
    "an unknown kind of vehicle",
    (f) => (f.limits[0].appliesTo[0].kind = ["bus", "tram"]),
    "$.limits[0].appliesTo[0].kind[1]",
    /"tram"/,
    /"bus"/,
  ],
  [
    "no choice at all",
    (f) => (f.limits[0].appliesTo[0].kind = []),
    "$.limits[0].appliesTo[0].kind",
    /empty/,
    /at least one/,
  ],
  [
    "a day that is none",
    (f) => (f.limits[0].appliesTo[1].built.from = "2000-13"),
    "$.limits[0].appliesTo[1].built.from",
    /not a date/,
    /2016-05/,
  ],
  [
    "an odd rounding",
    (f) => (f.limits[2].rounding = { places: 4, unit: "s" }),
    "$.limits[2].rounding.places",
    /4 stands here/,
    /0 to 3/,
  ],
  [
    "a rounding in another kind",
    (f) => (f.limits[2].rounding = { places: 1, unit: "psi" }),
    "$.limits[2].rounding.unit",
    /"psi"/,
    /"s"/,
  ],
  [
    "more good readings than readings",
    (f) => (f.limits[0].set = { atLeast: 4, of: 3 }),
    "$.limits[0].set.atLeast",
    /more than 3/,
    /3 or less/,
  ],
  ["a figure without values", (f) => delete f.figures[0].values, "$.figures[0]", /values or rows/, /"values"/],
  [
    "a figure in an unknown unit",
    (f) => (f.figures[0].values.cutOut.unit = "stone"),
    "$.figures[0].values.cutOut.unit",
    /"stone"/,
    /named figures/,
  ],
  [
    "a figure without a number",
    (f) => (f.figures[0].values.cutOut = { unit: "psi" }),
    "$.figures[0].values.cutOut",
    /no number/,
    /"value" or bounds/,
  ],
  ["a figure of another use", (f) => (f.figures[0].use = "limit"), "$.figures[0].use", /"limit"/, /"method"/],
];

describe("a rulebook file is refused, with place and remedy:", () => {
  it.each(cases)("%s", (_what, breaking, path, message, remedy) => {
    const problems = refusal(breaking);
    const there = problems.filter((one) => one.path === path);
    expect([path, problems.map((one) => one.path)]).toEqual([path, expect.arrayContaining([path])]);
    expect(there.some((one) => message.test(one.message) && remedy.test(one.remedy))).toBe(true);
  });

  it("everything at once, not only the first", () => {
    const problems = refusal((file) => {
      file.limits[0].status = "derived";
      file.limits[1].comparison = "=";
      file.texts[0].date = "soon";
    });
    expect(problems.map((one) => one.path).sort()).toEqual([
      "$.limits[0].status",
      "$.limits[1].comparison",
      "$.texts[0].date",
    ]);
  });
});

describe("text that is no JSON is refused, with line and column:", () => {
  it.each([
    ["", "line 1, column 1", /ends too early/],
    ['{"a": 1,\n "a": 2}', "line 2, column 2", /"a" stands twice/],
    ['{"a": 1e999}', "line 1, column 7", /larger than any/],
    ['{"a": 01}', "line 1, column 8", /"," is missing/],
    ['{"a": 1} x', "line 1, column 10", /more text after the end/],
    ["{'a': 1}", "line 1, column 2", /double quotes/],
    ['{"a": [1,]}', "line 1, column 10", /not JSON/],
    ['{"a" 1}', "line 1, column 6", /":" is missing/],
    ['{"a": "b', "line 1, column 7", /not JSON/],
    ['{"a": 1', "line 1, column 8", /ends too early/],
    [`${"[".repeat(60)}`, "line 1, column 34", /nested more than 32 deep/],
    [" ".repeat(LONGEST_TEXT + 1), "$", /not read/],
  ])("%j", (text, path, message) => {
    const loaded = loadRulebook(text);
    if (loaded.ok) throw new Error("accepted");
    expect(loaded.problems.length).toBe(1);
    expect(loaded.problems[0]?.path).toBe(path);
    expect(loaded.problems[0]?.message).toMatch(message);
  });

  it.each(["1", "null", "[]", '"text"'])("%s is JSON, but no object", (text) => {
    expect(loadRulebook(text)).toMatchObject({ ok: false, problems: [{ path: "$" }] });
  });
});

describe("the reader of JSON", () => {
  it("reads what JSON.parse reads", () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 5 }), fc.constantFrom(0, 1, 2), (text, indent) => {
        const laidOut = JSON.stringify(JSON.parse(text), null, indent);
        expect(readJson(laidOut)).toEqual({ raw: JSON.parse(laidOut) });
      }),
    );
  });

  it("answers any text, and refuses what JSON.parse refuses", () => {
    const text = fc.oneof(
      fc.string(),
      fc.array(fc.constantFrom(...'[]{}:,"a1e-. \n\\u', "true", "null")).map((all) => all.join("")),
    );
    fc.assert(
      fc.property(text, (any) => {
        const read = readJson(any);
        if ("raw" in read) expect(read.raw).toEqual(JSON.parse(any.replace(/^\uFEFF/, "")));
        else expect(read.problem.remedy).toMatch(/\S/);
      }),
    );
  });

  it("reads the published files as they stand", () => {
    for (const id of publishedIds) {
      const text = readFileSync(join(import.meta.dirname, "..", "published", `${id}.json`), "utf8");
      const loaded = loadRulebook(text);
      expect(loaded.ok && loaded.rulebook).toEqual(publishedRulebook(id));
    }
  });

  it("never throws on a published file with a piece cut out", () => {
    const files = publishedIds.map((id) =>
      readFileSync(join(import.meta.dirname, "..", "published", `${id}.json`), "utf8"),
    );
    const cut = fc.tuple(fc.constantFrom(...files), fc.nat(), fc.integer({ min: 1, max: 40 }));
    fc.assert(
      fc.property(cut, ([file, start, length]) => {
        const at = start % file.length;
        const loaded = loadRulebook(file.slice(0, at) + file.slice(at + length));
        if (!loaded.ok) expect(loaded.problems.every((one) => /\S/.test(one.path) && /\S/.test(one.remedy))).toBe(true);
      }),
      { numRuns: 60 },
    );
  });
});
