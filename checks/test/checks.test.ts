import { describe, expect, it, vi } from "vitest";
import { closedForms } from "../closed-forms/index.ts";
import { publishedCases } from "../published/index.ts";
import { afterApplications } from "../published/P-09.ts";
import { allChecks } from "../src/all.ts";
import { runCheck } from "../src/check.ts";
import { checkIds, runChecks } from "../src/index.ts";
import { vehicle, vehicleText, yard } from "../src/yard.ts";
import { arrivalS, expectedS } from "../standards/lines.ts";

vi.setConfig({ testTimeout: 120_000 });

describe("published cases and closed forms", () => {
  // The rest of the checks is run by the step `checks` of `npm test`, through the command line, as a user does.
  it.each([...publishedCases, ...closedForms].map((check) => [check.id, check] as const))("%s", (_, check) => {
    const result = runCheck(check, () => 0);
    expect(result.comparisons.filter((c) => !c.ok)).toEqual([]);
    expect(result.ok, result.disagreement).toBe(true);
  });
});

describe("every check", () => {
  it("has a name of its own, a source, a problem in words and inputs", () => {
    expect(new Set(checkIds).size).toBe(checkIds.length);
    for (const { id, source, problem, inputs } of allChecks) {
      expect(source.text.length, id).toBeGreaterThan(10);
      expect(problem.length, id).toBeGreaterThan(20);
      expect(inputs.length, id).toBeGreaterThan(0);
    }
  });

  it("can be asked for by name, and no other name is taken", () => {
    expect(runChecks({ only: ["P-08"] }).map((r) => r.id)).toEqual(["P-08"]);
    expect(() => runChecks({ only: ["P-99"] })).toThrow("no check is called P-99");
  });

  it("is told of before it runs", () => {
    const told: string[] = [];
    runChecks({ only: ["P-08", "P-02"], before: (id, share) => told.push(`${id} ${share}`) });
    expect(told).toEqual(["P-02 0", "P-08 0.5"]);
  });
});

describe("a spoiled vehicle is seen", () => {
  it("tanks a tenth too small: nine full applications leave clearly less than a sound bus", () => {
    const sound = afterApplications(undefined, true, 3);
    const spoiled = afterApplications(
      (file) => {
        for (const tank of file.air.reservoirs) tank.volume = { ...tank.volume, value: tank.volume.value * 0.9 };
      },
      true,
      3,
    );
    expect(sound[2]! - spoiled[2]!).toBeGreaterThan(1.5);
  });

  it("a line twice as long arrives late", () => {
    const line = { lengthM: 10, boreM: 0.0095 };
    expect(arrivalS({ ...line, lengthM: 20 }, 385e-6) / expectedS(line, 385e-6)).toBeGreaterThan(1.5);
  });
});

describe("the yard", () => {
  it("says what it does not have", () => {
    expect(() => vehicleText("hovercraft")).toThrow('no vehicle is called "hovercraft"');
    expect(() => yard("default-bus").breakIt("none")).toThrow('a fault "none"');
    expect(() => vehicle("default-bus", (file) => delete file.axles)).toThrow("$.axles");
  });

  it("graduates to the pressure asked for, less half the valve's hysteresis", () => {
    const bus = yard("default-bus", { start: { psi: 100, parking: "in", loaded: false } });
    bus.press(40).wait(3);
    expect(bus.psi("primaryDelivery")).toBeGreaterThan(37);
    expect(bus.psi("primaryDelivery")).toBeLessThan(40);
  });
});
