import { toSi } from "@brakeyard/units";
import { describe, expect, it } from "vitest";
import type { ControlInfo } from "../live/contract.ts";
import { openVehicle } from "../live/openVehicle.ts";
import { askedFor, nudged, pedalSteps, travelFor } from "./pedal.ts";

const result = openVehicle({ from: "fleet", id: "harrow-ridge-12" });
if (!result.ok) throw new Error("the fleet opens");
const pedal = result.info.controls.find((c) => c.id === "pedal") as ControlInfo;
const psi = (value: number) => toSi("pressure", value, "psi");

describe("the pedal", () => {
  it("finds the travel that asks for a pressure, and back", () => {
    for (const pressure of [10, 20, 35, 60]) {
      expect(askedFor(pedal, travelFor(pedal, psi(pressure)))).toBeCloseTo(psi(pressure), 3);
    }
  });

  it("offers none, two marks and full in each unit", () => {
    for (const unit of ["psi", "kPa", "bar"] as const) {
      const steps = pedalSteps(pedal, unit, "Full");
      expect(steps.map((s) => s.label)[0]).toBe("0");
      expect(steps.length).toBe(4);
      const travels = steps.map((s) => s.travel);
      expect([...travels].sort((a, b) => a - b)).toEqual(travels);
      expect(travels[0]).toBe(pedal.minimum);
      expect(travels[3]).toBe(pedal.maximum);
    }
  });

  it("goes up by whole steps to full travel and down again to none", () => {
    let travel = pedal.minimum;
    const seen = [travel];
    while (travel < pedal.maximum && seen.length < 100) {
      travel = nudged(pedal, "psi", travel, true);
      seen.push(travel);
    }
    expect(travel).toBe(pedal.maximum);
    expect(askedFor(pedal, seen[1]!)).toBeCloseTo(psi(5), 0);
    while (travel > pedal.minimum && seen.length < 200) {
      const lower = nudged(pedal, "psi", travel, false);
      expect(lower).toBeLessThan(travel);
      travel = lower;
      seen.push(travel);
    }
    expect(travel).toBe(pedal.minimum);
  });
});
