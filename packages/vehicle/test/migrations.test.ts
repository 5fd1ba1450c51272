import { describe, expect, it } from "vitest";
import { type Migration, migrate, runMigrations, vehicleMigrations } from "../src/migrations/index.ts";
import { VEHICLE_VERSION } from "../src/schema/vehicle.ts";

const steps: Migration[] = [
  { from: 1, says: "cutout became cutOut", step: ({ cutout, ...rest }) => ({ ...rest, cutOut: cutout }) },
  { from: 2, says: "cutOut has a unit", step: (raw) => ({ ...raw, cutOut: { value: raw.cutOut, unit: "psi" } }) },
];

describe("migrations", () => {
  it("take a file from its version to the newest, step by step, and say so", () => {
    const { raw, notes } = migrate({ version: 1, cutout: 125 }, steps, 3);
    expect(raw).toEqual({ version: 3, cutOut: { value: 125, unit: "psi" } });
    expect(notes).toEqual([
      "read from format version 1: cutout became cutOut",
      "read from format version 2: cutOut has a unit",
    ]);
  });

  it("start where the file stands and leave the newest alone", () => {
    expect(migrate({ version: 2, cutOut: 1 }, steps, 3).notes).toHaveLength(1);
    const raw = { version: 3, cutOut: 1 };
    expect(migrate(raw, steps, 3)).toEqual({ raw, notes: [] });
  });

  it("leave the given JSON untouched", () => {
    const raw = { version: 1, cutout: 125 };
    migrate(raw, steps, 3);
    expect(raw).toEqual({ version: 1, cutout: 125 });
  });

  it("are complete: one for every version but the newest", () => {
    expect(vehicleMigrations.map((step) => step.from)).toEqual(upTo(VEHICLE_VERSION));
    expect(runMigrations.map((step) => step.from)).toEqual([]);
    expect(() => migrate({ version: 1 }, [], 2)).toThrow(/no migration from format version 1/);
  });
});

function upTo(newest: number): number[] {
  return Array.from({ length: newest - 1 }, (_, i) => i + 1);
}
