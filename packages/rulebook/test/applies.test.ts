import { toSi } from "@brakeyard/units";
import { describe, expect, it } from "vitest";
import { type Limit, limitsFor, publishedIds, publishedRulebook, type VehicleFacts } from "../src/index.ts";
import { BUS, TRACTOR } from "../test-support/facts.ts";

const federal = publishedRulebook("us-federal");
const all = publishedIds.map((id) => publishedRulebook(id));
const SIXTY = { nominalSpeed: toSi("speed", 60, "mph") };

function ids(limits: readonly Limit[]): string[] {
  return limits.map((one) => one.id);
}

function stops(facts: VehicleFacts, load: "loaded" | "unloaded"): string[] {
  const found = limitsFor(facts, "serviceStop", [federal], { ...SIXTY, load });
  return [...ids(found.applying), ...found.open.map((one) => `${one.limit.id}? ${one.missing.join(" ")}`)];
}

function tractor(axles: number, pounds: number, built: string): VehicleFacts {
  return { ...TRACTOR, axles, gross: toSi("mass", pounds, "lb"), built };
}

describe("which column of the stopping distances", () => {
  it.each([
    ["three axles, lighter, after the first day", 3, 52000, "2011-08-01", "121.TableII.3/60"],
    ["the day before", 3, 52000, "2011-07-31", "121.TableIIa.4/60"],
    ["three axles, middle, between the days", 3, 65000, "2012-06", "121.TableIIa.4/60"],
    ["three axles, middle, after the second day", 3, 65000, "2014", "121.TableII.3/60"],
    ["three axles, heavy, after the second day", 3, 71000, "2014", "121.TableII.4/60"],
    ["two axles, between the days", 2, 36000, "2012-06", "121.TableIIa.4/60"],
    ["two axles, after the second day", 2, 36000, "2013-08-01", "121.TableII.3/60"],
    ["four axles, heavy", 4, 86000, "2015", "121.TableII.4/60"],
    ["four axles, lighter", 4, 85000, "2015", "121.TableII.3/60"],
  ])("tractor, %s", (_title, axles, pounds, built, id) => {
    expect(stops(tractor(axles, pounds, built), "loaded")).toEqual([id]);
  });

  it("is open while the year alone leaves it open, and says what is missing", () => {
    expect(stops(tractor(2, 36000, "2013"), "loaded")).toEqual(["121.TableII.3/60? built", "121.TableIIa.4/60? built"]);
    expect(stops({ ...TRACTOR, axles: 3, gross: { low: 26000, high: 28000 }, built: "2012" }, "loaded")).toEqual([
      "121.TableII.3/60? gross",
      "121.TableIIa.4/60? gross",
    ]);
  });

  it("of a bus does not ask for its load", () => {
    expect(stops(BUS, "loaded")).toEqual(["121.TableII.1/60"]);
    expect(stops(BUS, "unloaded")).toEqual(["121.TableII.1/60"]);
  });
});

describe("limits for a vehicle", () => {
  it("go by its kind", () => {
    expect(ids(limitsFor(BUS, "governorCutIn", all).applying)).toEqual(["121.S5.1.1.1.bus"]);
    expect(ids(limitsFor(TRACTOR, "governorCutIn", all).applying)).toEqual(["121.S5.1.1.1.truck"]);
  });

  it("go by the day it was built", () => {
    const warning = (built: string): string[] =>
      ids(limitsFor({ ...BUS, built }, "warningPressure", [federal]).applying);
    expect(warning("1974-12")).toEqual(["393.51.older", "396A.warning"]);
    expect(warning("1976")).toEqual(["121.S5.1.5", "396A.warning"]);
    expect(limitsFor({ ...BUS, built: "1975" }, "warningPressure", [federal]).open.map((one) => one.missing)).toEqual([
      ["built"],
      ["built"],
    ]);
  });

  it("go by its ratings", () => {
    const braking = (pounds: number) =>
      ids(limitsFor({ ...BUS, gross: toSi("mass", pounds, "lb") }, "brakingForceShare", [federal]).applying);
    expect(braking(10000)).toEqual(["393.52.d.force/A2"]);
    expect(braking(10001)).toEqual(["393.52.d.force/A3"]);
  });

  it("know a combination from a single vehicle", () => {
    expect(ids(limitsFor(BUS, "appliedLeakRate", all).applying)).toEqual([
      "manual.applied-leak/single",
      "ontario.loss/D",
    ]);
    expect(ids(limitsFor(TRACTOR, "appliedLeakRate", all).applying)).toEqual([
      "manual.applied-leak/combination",
      "ontario.loss/A",
    ]);
    expect(ids(limitsFor(TRACTOR, "serviceDeceleration", [federal]).applying)).toEqual(["393.52.d.deceleration/B3"]);
  });

  it("of UN Regulation 13 ask for the category", () => {
    const r13 = [publishedRulebook("un-r13")];
    expect(limitsFor(BUS, "responseTime", r13).open.map((one) => one.missing)).toEqual([["category"]]);
    expect(ids(limitsFor({ ...BUS, category: "M3" }, "responseTime", r13).applying)).toEqual(["R13.A6.response"]);
    expect(limitsFor({ ...BUS, category: "O4" }, "responseTime", r13)).toEqual({ applying: [], open: [] });
  });

  it("of a state's reprint ask for the place", () => {
    const manual = [publishedRulebook("licence-manual")];
    expect(limitsFor(BUS, "pressureDelivered", manual).open.map((one) => one.missing)).toEqual([["place"]]);
    expect(limitsFor({ ...BUS, place: "Nevada" }, "pressureDelivered", manual).applying).toEqual([]);
    expect(limitsFor({ ...BUS, place: "California" }, "pressureDelivered", manual).applying.length).toBe(1);
  });
});
