import { toSi } from "@brakeyard/units";
import { describe, expect, it } from "vitest";
import {
  type Conditions,
  hold,
  holdSet,
  known,
  publishedRulebook,
  type Reading,
  unconfirmed,
  type VehicleFacts,
  verdictsOn,
  verdictText,
} from "../src/index.ts";
import { BUS, N3, published, TRACTOR } from "../test-support/facts.ts";

function psi(value: number): number {
  return toSi("pressure", value, "psi");
}

function feet(value: number): number {
  return toSi("distance", value, "ft");
}

const mph = (value: number): number => toSi("speed", value, "mph");

const appliedLeak = published("licence-manual", "manual.applied-leak/single");
const APPLIED: Conditions = { appliedPressure: psi(100), firstDropOver: true };

function leak(value: number, uncertainty: number, conditions: Conditions = APPLIED): Reading {
  return { what: "appliedLeakRate", value: known("appliedLeakRate", value, "psi/min", uncertainty), conditions };
}

function outcome(reading: Reading, facts: VehicleFacts = BUS, limit = appliedLeak) {
  const verdict = hold(limit, reading, facts);
  return [verdict.outcome, ...verdict.reasons.flatMap((one) => [one.code, ...one.keys])];
}

describe("a reading against a limit", () => {
  it("meets it up to the figure and fails above", () => {
    expect(outcome(leak(3, 0))).toEqual(["meets"]);
    expect(outcome(leak(3.001, 0))).toEqual(["fails"]);
    const below = published("licence-manual", "manual.static-leak/single");
    const still = { engine: "off", pedal: "released", springBrakes: "released" } as const;
    const reading = (value: number): Reading => ({
      what: "staticLeakRate",
      value: known("staticLeakRate", value, "psi/min"),
      conditions: still,
      vouched: true,
    });
    expect(outcome(reading(1.999), BUS, below)).toEqual(["meets"]);
    expect(outcome(reading(2), BUS, below)).toEqual(["fails"]);
  });

  it("cannot be told when its interval reaches to both sides", () => {
    expect(outcome(leak(2.5, 0.4))).toEqual(["meets"]);
    expect(outcome(leak(2.5, 0.6))).toEqual(["cannot tell", "straddles"]);
    expect(outcome(leak(4, 0.6))).toEqual(["fails"]);
  });

  it("cannot be told when a condition was not met, whatever the reading", () => {
    const low = { ...APPLIED, appliedPressure: psi(60) };
    expect(outcome(leak(1, 0, low))).toEqual(["cannot tell", "conditionNotMet", "appliedPressure"]);
    expect(outcome({ ...leak(1, 0, low), vouched: true })).toEqual([
      "cannot tell",
      "conditionNotMet",
      "appliedPressure",
    ]);
    expect(outcome(leak(9, 0, low))).toEqual(["cannot tell", "conditionNotMet", "appliedPressure"]);
  });

  it("cannot be told when a condition is not known, unless somebody vouches for it, and then says so", () => {
    expect(outcome(leak(1, 0, { firstDropOver: true }))).toEqual([
      "cannot tell",
      "conditionUnknown",
      "appliedPressure",
    ]);
    const vouched = hold(appliedLeak, { ...leak(1, 0, {}), vouched: true }, BUS);
    expect([vouched.outcome, ...vouched.vouchedFor]).toEqual(["meets", "appliedPressure", "firstDropOver"]);
    expect(verdictText(vouched)).toMatch(/vouched for by whoever took the reading/);
    // A pressure measured too loosely to say is not mended by a word.
    const loose = { ...APPLIED, appliedPressure: { low: psi(85), high: psi(95) } };
    expect(outcome({ ...leak(1, 0, loose), vouched: true })).toEqual([
      "cannot tell",
      "conditionUnknown",
      "appliedPressure",
    ]);
  });

  it("cannot be told for another vehicle, or one of which too little is known", () => {
    expect(outcome(leak(1, 0), { ...BUS, combination: "combination" })).toEqual(["cannot tell", "doesNotApply"]);
    expect(outcome(leak(1, 0), {})).toEqual(["cannot tell", "applicabilityUnknown", "combination"]);
  });

  it("counts a condition as met only inside both bounds", () => {
    const stroke = published("us-federal", "393.47.e.clamp/30");
    const under = (startPressure: Conditions["startPressure"]): Reading => ({
      what: "pushrodStroke",
      value: known("pushrodStroke", 1.5, "in"),
      of: { chamber: "clamp", chamberType: "30", chamberStroke: "standard" },
      conditions: { engine: "off", pedal: "full", ...(startPressure && { startPressure }) },
    });
    for (const inside of [psi(80), psi(90), { low: psi(80), high: psi(90) }])
      expect(outcome(under(inside), BUS, stroke)).toEqual(["meets"]);
    for (const outside of [psi(79), psi(91), { low: psi(91), high: psi(95) }, { low: psi(70), high: psi(79) }])
      expect(outcome(under(outside), BUS, stroke)).toEqual(["cannot tell", "conditionNotMet", "startPressure"]);
    for (const across of [
      { low: psi(79), high: psi(85) },
      { low: psi(85), high: psi(91) },
    ])
      expect(outcome(under(across), BUS, stroke)).toEqual(["cannot tell", "conditionUnknown", "startPressure"]);
  });

  it("of another thing is not held against it", () => {
    const other: Reading = { what: "staticLeakRate", value: 0, conditions: APPLIED };
    expect(outcome(other)).toEqual(["cannot tell", "anotherThing", "what"]);
    const stroke = published("us-federal", "393.47.e.clamp/30");
    const value = known("pushrodStroke", 1.5, "in");
    const conditions = { engine: "off", pedal: "full", startPressure: psi(85) } as const;
    const rod = (of: Reading["of"]): Reading => ({ what: "pushrodStroke", value, conditions, ...(of && { of }) });
    expect(outcome(rod({ chamber: "clamp", chamberType: "30", chamberStroke: "standard" }), BUS, stroke)).toEqual([
      "meets",
    ]);
    expect(outcome(rod({ chamber: "clamp", chamberType: "24", chamberStroke: "standard" }), BUS, stroke)).toEqual([
      "cannot tell",
      "anotherThing",
      "chamberType",
    ]);
    expect(outcome(rod(undefined), BUS, stroke)).toEqual([
      "cannot tell",
      "thingUnknown",
      "chamber",
      "chamberStroke",
      "chamberType",
    ]);
  });

  it("refuses what is no number", () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, { low: 2, high: 1 }])
      expect(() => hold(appliedLeak, { what: "appliedLeakRate", value }, BUS)).toThrow(RangeError);
    expect(() => known("appliedLeakRate", 1, "psi")).toThrow(RangeError);
    expect(() => known("appliedLeakRate", 1, "psi/min", -1)).toThrow(RangeError);
  });
});

describe("limits that are worked out", () => {
  const compressor = published("us-federal", "121.S5.1.1");
  const conditions: Conditions = { engine: "running", engineSpeed: "maximum recommended" };
  const reading = (seconds: number): Reading => ({
    what: "buildUpTime",
    value: seconds,
    of: { fromPressure: psi(85), toPressure: psi(100) },
    conditions,
    vouched: true,
  });
  const tanks = { reservoirVolume: 0.12, requiredReservoirVolume: 0.08 };

  it("scale with the vehicle: half as much volume again, half as long again", () => {
    // Source: S5.1.1 as read: t = actual x 25 / required = 37.5 s.
    const facts = { ...BUS, bases: tanks };
    expect(hold(compressor, reading(37.5), facts).outcome).toBe("meets");
    expect(hold(compressor, reading(37.6), facts).outcome).toBe("fails");
  });

  it("cannot be told when a figure is missing", () => {
    expect(outcome(reading(20), BUS, compressor)).toEqual([
      "cannot tell",
      "baseUnknown",
      "reservoirVolume",
      "requiredReservoirVolume",
    ]);
  });

  it("are intervals when a figure is one", () => {
    const facts = { ...BUS, bases: { ...tanks, reservoirVolume: { low: 0.11, high: 0.13 } } };
    expect(hold(compressor, reading(34), facts).outcome).toBe("meets");
    expect(outcome(reading(37), facts, compressor)).toEqual(["cannot tell", "straddles"]);
    expect(hold(compressor, reading(41), facts).outcome).toBe("fails");
  });

  it("take the lesser or the greater of several", () => {
    const old: VehicleFacts = { kind: "bus", built: "1970" };
    const warning = published("us-federal", "393.51.older");
    const at = (value: number, cutOut: number) =>
      hold(warning, { what: "warningPressure", value: psi(value), bases: { governorCutOut: psi(cutOut) } }, old)
        .outcome;
    expect([at(55, 120), at(54, 120), at(50, 100), at(49, 100)]).toEqual(["meets", "fails", "meets", "fails"]);
    const strength = published("us-federal", "121.S5.1.2.2");
    const held = (value: number, cutOut: number) =>
      hold(
        strength,
        {
          what: "reservoirStrength",
          value: psi(value),
          conditions: { heldFor: 600 },
          bases: { governorCutOut: psi(cutOut) },
        },
        BUS,
      ).outcome;
    expect([held(600, 120), held(599, 120), held(500, 90), held(499, 90)]).toEqual([
      "meets",
      "fails",
      "meets",
      "fails",
    ]);
  });

  it("go by the speed at the start", () => {
    const stop = published("un-r13", "R13.A4.type0.stop/N3");
    const of = { test: "type 0", engineCoupling: "disconnected", nominalSpeed: toSi("speed", 60, "km/h") } as const;
    const at = (metres: number): Reading => ({
      what: "serviceStop",
      value: metres,
      of,
      conditions: { speedShare: 0.99 },
      bases: { initialSpeed: toSi("speed", 60, "km/h") },
    });
    expect(hold(stop, at(36.69), N3).outcome).toBe("meets");
    expect(hold(stop, at(36.7), N3).outcome).toBe("fails");
    expect(outcome({ ...at(20), conditions: { speedShare: 0.97 } }, N3, stop)).toEqual([
      "cannot tell",
      "conditionNotMet",
      "speedShare",
    ]);
  });
});

describe("what texts do to a figure", () => {
  it("rounding: hundredths of 5 and more go up", () => {
    // Source: 71/320/EEC Annex III, read: rounded to 0.1 s.
    const response = published("un-r13", "R13.A6.response");
    const at = (value: number) => hold(response, { what: "responseTime", value, vouched: true }, N3).outcome;
    expect([0.6, 0.649, 0.65, 0.7].map(at)).toEqual(["meets", "meets", "fails", "fails"]);
  });

  it("two units that do not quite agree: between them it cannot be told", () => {
    // 55 psi is 379.2 kPa; the text prints 380 kPa.
    const warning = published("ontario", "ontario.warning");
    const at = (value: number) => hold(warning, { what: "warningPressure", value }, BUS).outcome;
    expect([380_000, 379_500, 379_000].map(at)).toEqual(["meets", "cannot tell", "fails"]);
  });

  it("a disputed limit: nothing is held against it", () => {
    const hot = published("us-federal", "121.S5.4.2.2.line");
    const reading: Reading = { what: "linePressure", value: psi(90), of: { test: "hot stop" } };
    expect(outcome(reading, TRACTOR, hot)).toEqual(["cannot tell", "disputed"]);
  });

  it("a figure from memory says so, and so does one whose conditions are", () => {
    const release = published("us-federal", "121.S5.3.4.chamber/truck-bus");
    const verdict = hold(release, { what: "releaseTime", value: 0.5, vouched: true }, BUS);
    expect([verdict.outcome, verdict.fromMemory]).toEqual(["meets", true]);
    expect(verdictText(verdict)).toMatch(/from memory, not confirmed/);
    const apply = published("us-federal", "121.S5.3.3.chamber/truck-bus");
    const text = verdictText(hold(apply, { what: "applyTime", value: 0.4, vouched: true }, BUS));
    expect(text).toMatch(
      /^meets <= 0\.45 s, 49 CFR 571\.121 S5\.3\.3, .*read in S15, but from memory: what starts the clock/,
    );
    expect(unconfirmed([verdict]).map((one) => one.id)).toEqual(["121.S5.3.4.chamber/truck-bus"]);
    const read = hold(appliedLeak, leak(1, 0), BUS);
    expect(read.fromMemory).toBe(false);
    expect(verdictText(read)).not.toMatch(/memory/);
  });
});

describe("several readings", () => {
  const stop = published("us-federal", "121.TableII.1/60");
  const conditions: Conditions = { surfacePeak: 0.9, brakeTemperature: toSi("temperature", 180, "F"), gear: "neutral" };
  const stops = (...distances: number[]): Reading[] =>
    distances.map((ft) => ({
      what: "serviceStop",
      value: feet(ft),
      of: { nominalSpeed: mph(60) },
      conditions,
      vouched: true,
    }));

  it("best of six: one within the distance is enough", () => {
    expect(holdSet(stop, stops(300, 290, 279), BUS).outcome).toBe("meets");
    expect(holdSet(stop, stops(300, 290, 285, 284, 283, 282), BUS).outcome).toBe("fails");
  });

  it("cannot be told before the sixth, nor after a seventh", () => {
    const five = holdSet(stop, stops(300, 290, 285, 284, 283), BUS);
    expect([five.outcome, five.reasons[0]?.code]).toEqual(["cannot tell", "tooFewReadings"]);
    const seven = holdSet(stop, stops(300, 290, 285, 284, 283, 282, 279), BUS);
    expect([seven.outcome, seven.reasons[0]?.code]).toEqual(["cannot tell", "tooManyReadings"]);
  });

  it("three of four in the lane", () => {
    const lane = published("us-federal", "121.S5.3.6");
    const curve = (...widths: number[]): Reading[] =>
      widths.map((ft) => ({
        what: "laneWidth",
        value: toSi("length", ft, "ft"),
        of: { test: "curve" },
        vouched: true,
      }));
    expect(holdSet(lane, curve(11, 11, 13, 11), BUS).outcome).toBe("meets");
    expect(holdSet(lane, curve(11, 13, 13), BUS).outcome).toBe("fails");
    expect(holdSet(lane, curve(11, 13), BUS).outcome).toBe("cannot tell");
  });

  it("all must keep a limit that speaks of no set", () => {
    expect(holdSet(appliedLeak, [leak(1, 0), leak(2, 0)], BUS).outcome).toBe("meets");
    expect(holdSet(appliedLeak, [leak(1, 0), leak(4, 0)], BUS).outcome).toBe("fails");
    expect(holdSet(appliedLeak, [leak(1, 0), leak(3, 1)], BUS).outcome).toBe("cannot tell");
    expect(holdSet(appliedLeak, [], BUS).outcome).toBe("cannot tell");
  });

  it("each goes to the rows it is for, in every rulebook", () => {
    const books = [publishedRulebook("us-federal"), publishedRulebook("licence-manual"), publishedRulebook("ontario")];
    const readings = [...stops(250), leak(2.9, 0, { ...APPLIED, startPressure: psi(120) })];
    const verdicts = verdictsOn(readings, BUS, books).map((one) => `${one.limit.id} ${one.outcome}`);
    expect(verdicts).toEqual(["121.TableII.1/60 meets", "manual.applied-leak/single meets", "ontario.loss/D meets"]);
  });
});
