import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CompleteVehicle, completeVehicle, loadVehicle, type VehicleFile, writeOut } from "../src/index.ts";
import { minimalBus } from "../test-support/minimalBus.ts";
import { vehicleFile } from "../test-support/vehicleArbitrary.ts";

function loaded(text: string): VehicleFile {
  const result = loadVehicle(text);
  if (!result.ok) throw new Error(JSON.stringify(result.problems, null, 1));
  return result.vehicle;
}

/** Every number and choice in a complete vehicle. */
// biome-ignore lint/suspicious/noExplicitAny: walks any shape
function values(at: any, found: any[] = []): any[] {
  if (typeof at !== "object" || at === null) return found;
  if ("si" in at || "alternatives" in at) found.push(at);
  else for (const [key, child] of Object.entries(at)) if (key !== "file") values(child, found);
  return found;
}

describe("a complete vehicle", { timeout: 30_000 }, () => {
  const vehicle: CompleteVehicle = completeVehicle(loaded(JSON.stringify(minimalBus())));
  const front = vehicle.axles[0]?.brakes;
  const rear = vehicle.axles[1]?.brakes;

  it("keeps what the file says, in SI and as written", () => {
    const volume = vehicle.air?.reservoirs[0]?.values.volume;
    expect(volume).toMatchObject({ from: "plate", written: 1220, unit: "in3" });
    expect(volume?.si).toBeCloseTo(0.019992, 6);
    expect(volume?.generic).toBeUndefined();
  });

  it("fills the rest from generic parts, marked typical, with a range and a source", () => {
    const lag = vehicle.air?.power?.foot.values.secondaryLag;
    expect(lag).toMatchObject({
      from: "typical",
      written: 2,
      unit: "psi",
      generic: { part: "footValve.secondaryLag", source: "from memory" },
    });
    expect([lag?.low, lag?.high].map((pa) => Number(pa) / 6894.757)).toEqual([
      expect.closeTo(1, 4),
      expect.closeTo(3, 4),
    ]);
  });

  it("takes a chamber's figures from its type", () => {
    expect(front?.left.ratedVolume.written).toBe(67);
    expect(rear?.left).toMatchObject({
      area: { written: 30 },
      ratedVolume: { written: 89 },
      fullStroke: { written: 2.5 },
    });
    expect(rear?.left.springForce.written).toBe(2000);
  });

  it("puts steering axles on the secondary circuit behind a quick release valve, others on the primary behind a relay", () => {
    expect(front?.application).toMatchObject({
      circuit: "secondary",
      fedFrom: ["secondary"],
      path: { via: { value: "quickRelease" } },
    });
    expect(rear?.application).toMatchObject({
      circuit: "primary",
      fedFrom: ["primary"],
      path: { via: { value: "relay" } },
    });
  });

  it("feeds the parking control from both service tanks and says that this was taken as usual", () => {
    expect(vehicle.air?.power?.parking?.fedFrom).toEqual(["primary", "secondary"]);
    expect(vehicle.assumptions.map((one) => one.path)).toContain("$.air.parking.fedFrom");
  });

  it("has no value without origin, no typical one without a range, no generic one without a source, no NaN", () => {
    fc.assert(
      fc.property(vehicleFile, (text) => {
        for (const value of values(completeVehicle(loaded(text)))) {
          expect(["measured", "plate", "typical"]).toContain(value.from);
          if (value.generic) expect(value.generic.source.length).toBeGreaterThan(5);
          if (!("si" in value)) continue;
          expect(Number.isFinite(value.si)).toBe(true);
          if (value.from === "typical") expect(value.low <= value.si && value.si <= value.high).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("written out in full is a file that means the same and leans on no generic part", () => {
    fc.assert(
      fc.property(vehicleFile, (text) => {
        const once = writeOut(completeVehicle(loaded(text)));
        const again = completeVehicle(loaded(JSON.stringify(once)));
        expect(values(again).filter((value) => value.generic)).toEqual([]);
        expect(writeOut(again)).toEqual(once);
        expect(values(again).map(essence)).toEqual(values(completeVehicle(loaded(text))).map(essence));
      }),
      { numRuns: 60 },
    );
  });
});

function essence(value: { si?: number; value?: string; from: string; low?: number; high?: number }) {
  return [value.si ?? value.value, value.from, value.low, value.high];
}
