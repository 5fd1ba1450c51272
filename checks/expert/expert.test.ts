import { describe, expect, it, vi } from "vitest";
import { runCheck } from "../src/check.ts";
import { expertChecks } from "./index.ts";

vi.setConfig({ testTimeout: 120_000 });

describe("what an expert will try", () => {
  it("is fourteen statements, each in one clause or more", () => {
    const statements = new Set(expertChecks.map((check) => /^E-(\d\d)[a-z]$/.exec(check.id)?.[1]));
    expect([...statements]).toEqual(Array.from({ length: 14 }, (_, i) => String(i + 1).padStart(2, "0")));
  });

  it.each(expertChecks.map((check) => [check.id, check] as const))("%s", (_, check) => {
    const result = runCheck(check, () => 0);
    expect(result.comparisons.filter((one) => !one.ok)).toEqual([]);
    expect(result.ok, result.disagreement).toBe(true);
  });
});
