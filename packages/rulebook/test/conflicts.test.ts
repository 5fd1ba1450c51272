import { toSi } from "@brakeyard/units";
import { describe, expect, it } from "vitest";
import { type Conflict, conflicts, loadRulebook, publishedIds, publishedRulebook } from "../src/index.ts";
import { BUS } from "../test-support/facts.ts";

const all = publishedIds.map((id) => publishedRulebook(id));
const psi = (value: number): number => toSi("pressure", value, "psi");

function inShort(one: Conflict): string {
  const stricter = one.stricter ? `, stricter ${one.stricter.id}` : "";
  return `${one.limits[0].id} and ${one.limits[1].id}: ${one.sort}${stricter}`;
}

describe("conflicts between texts are reported, both sides whole", () => {
  it("warning pressure: 60 psi, 55 psi, 380 kPa, half of cut-out", () => {
    const found = conflicts({ ...BUS, bases: { governorCutOut: psi(125) } }, "warningPressure", all);
    expect(found.map(inShort)).toEqual([
      "121.S5.1.5 and 396A.warning: figures, stricter 121.S5.1.5",
      "121.S5.1.5 and manual.warning-60: conditions",
      "121.S5.1.5 and manual.warning-55: figures, stricter 121.S5.1.5",
      "121.S5.1.5 and ontario.warning: figures, stricter 121.S5.1.5",
      "396A.warning and manual.warning-60: figures, stricter manual.warning-60",
      "396A.warning and ontario.warning: figures, stricter ontario.warning",
      "manual.warning-60 and manual.warning-55: figures, stricter manual.warning-60",
      "manual.warning-60 and ontario.warning: figures, stricter manual.warning-60",
      "manual.warning-55 and ontario.warning: figures, stricter ontario.warning",
    ]);
  });

  it("build-up: three engine speeds, so that the figures are not interchangeable", () => {
    const of = { fromPressure: psi(85), toPressure: psi(100) };
    const facts = { ...BUS, bases: { reservoirVolume: 0.12, requiredReservoirVolume: 0.08 } };
    const found = conflicts(facts, "buildUpTime", all, of);
    expect(found.map(inShort)).toEqual([
      "121.S5.1.1 and manual.build-up-dual: figures, stricter 121.S5.1.1",
      "121.S5.1.1 and ontario.build-up: figures, stricter 121.S5.1.1",
      "manual.build-up-dual and ontario.build-up: figures, stricter manual.build-up-dual",
    ]);
    expect(found.map((one) => one.differentConditions.includes("engineSpeed"))).toEqual([true, true, true]);
  });

  it("build-up without the volumes: the regulation's time cannot be compared, and it says why", () => {
    const found = conflicts(BUS, "buildUpTime", all, { fromPressure: psi(85), toPressure: psi(100) });
    expect(found[0]).toMatchObject({ sort: "not comparable", missing: ["reservoirVolume", "requiredReservoirVolume"] });
  });

  it("lining of a steering drum: 3/16 in continuous strip against 1/4 in", () => {
    const found = conflicts(BUS, "liningThickness", all, {
      axle: "steering",
      brake: "air drum",
      lining: "continuous strip",
    });
    expect(found.map(inShort)).toEqual([
      "393.47.d.steering/drum-continuous and 396A.a6/steering-drum: figures, stricter 396A.a6/steering-drum",
    ]);
  });

  it("leak with the pedal down: the two texts print one limit in two units", () => {
    const [found, ...more] = conflicts(BUS, "appliedLeakRate", all);
    expect(more).toEqual([]);
    // 21 kPa/min is 3.05 psi/min: the manual's 3 psi/min is the stricter figure.
    expect(inShort(found as Conflict)).toBe(
      "manual.applied-leak/single and ontario.loss/D: figures, stricter manual.applied-leak/single",
    );
  });

  it("grade: 20 % against 18 %", () => {
    const found = conflicts({ ...BUS, category: "M3" }, "gradeHeld", all);
    expect(found.map(inShort)).toEqual(["121.S5.6.2 and R13.A4.parking.grade/single: figures, stricter 121.S5.6.2"]);
  });

  it("emergency stop from 20 mph: 571.121 against 393.52", () => {
    const found = conflicts(BUS, "emergencyStop", all, { nominalSpeed: toSi("speed", 20, "mph") });
    expect(found.map(inShort)).toEqual([
      "121.TableII.7/20 and 393.52.d.emergency-stop/A3: figures, stricter 121.TableII.7/20",
    ]);
  });

  it("rows of one table never, and limits for other things never", () => {
    expect(conflicts({ kind: "trailer", mayTow: true, brakes: "air", built: "2015" }, "signalDifference", all)).toEqual(
      [],
    );
    expect(conflicts(BUS, "pushrodStroke", all).filter((one) => one.sort === "figures")).toEqual([]);
  });
});

describe("a user's own limit", () => {
  const own = (comparison: string, value: number) => {
    const loaded = loadRulebook(
      JSON.stringify({
        format: "brakeyard-rulebook",
        version: 1,
        id: "own",
        title: "Own",
        jurisdiction: "Yard",
        texts: [{ id: "t", title: "Instruction", edition: "first", date: "2025" }],
        sources: [],
        limits: [
          {
            id: "cut-in",
            text: "t",
            clause: "1",
            title: "Cut-in",
            what: "governorCutIn",
            comparison,
            value: { value, unit: "psi" },
            status: "from memory",
          },
        ],
      }),
    );
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
    return loaded.rulebook;
  };

  it("that no reading can keep together with the published one is shown as such", () => {
    expect(conflicts(BUS, "governorCutIn", [...all, own("<=", 80)]).map(inShort)).toEqual([
      "121.S5.1.1.1.bus and cut-in: exclude each other",
    ]);
    expect(conflicts(BUS, "governorCutIn", [...all, own("<", 85)]).map(inShort)).toEqual([
      "121.S5.1.1.1.bus and cut-in: exclude each other",
    ]);
    expect(conflicts(BUS, "governorCutIn", [...all, own("<=", 85)])).toEqual([]);
  });

  it("of the same figure is stricter when the figure itself no longer passes", () => {
    expect(conflicts(BUS, "governorCutIn", [...all, own(">", 85)]).map(inShort)).toEqual([
      "121.S5.1.1.1.bus and cut-in: figures, stricter cut-in",
    ]);
    expect(conflicts(BUS, "governorCutIn", [...all, own(">=", 85)])).toEqual([]);
  });
});
