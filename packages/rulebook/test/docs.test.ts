import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { rulebookSchema } from "../src/file/schema.ts";
import {
  conflicts,
  limitsFor,
  loadConfirmations,
  loadRulebook,
  publishedIds,
  publishedRulebook,
} from "../src/index.ts";
import { BUS } from "../test-support/facts.ts";
import { tables } from "../test-support/tables.ts";

const page = readFileSync(join(import.meta.dirname, "..", "..", "..", "docs", "rulebook-file.md"), "utf8");
const [rulebook = "", confirmations = ""] = [...page.matchAll(/```json\n([\s\S]*?)```/g)].map((block) =>
  String(block[1]),
);

describe("docs/rulebook-file.md", () => {
  it("has a rulebook that is accepted, is used beside the published ones and shows its conflicts", () => {
    const loaded = loadRulebook(rulebook);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
    const books = [publishedRulebook("licence-manual"), loaded.rulebook];
    const found = limitsFor(BUS, "appliedLeakRate", books).applying.map((one) => one.id);
    expect(found).toEqual(["manual.applied-leak/single", "applied-leak"]);
    expect(conflicts(BUS, "appliedLeakRate", books)).toMatchObject([
      { sort: "figures", stricter: { rulebook: "harrow-ridge" } },
    ]);
  });

  it("has confirmations that are accepted", () => {
    expect(loadConfirmations(confirmations, publishedRulebook("us-federal"))).toMatchObject({ ok: true });
  });

  it("has the tables of names as they are", () => {
    const [, rest = ""] = page.split(/<!-- tables:.*-->\n/);
    expect(rest.split("<!-- end of tables -->")[0]?.trim()).toBe(tables().trim());
  });

  it.each(publishedIds)("counts the limits of %s", (id) => {
    const { limits } = publishedRulebook(id);
    const row = page.split("\n").find((line) => line.startsWith(`| \`${id}\` |`)) ?? "";
    const read = limits.filter((one) => one.status === "read").length;
    expect(row).toMatch(new RegExp(`\\| ${limits.length} \\| ${read} \\|$`));
  });

  it("names every key of a rulebook and of a limit", () => {
    const shape = (rulebookSchema as unknown as { shape: Record<string, { def: { element?: { shape: object } } }> })
      .shape;
    const keys = [...Object.keys(shape), ...Object.keys(shape["limits"]?.def.element?.shape ?? {})];
    expect(keys.length).toBeGreaterThan(25);
    expect(keys.filter((key) => !page.includes(`\`${key}\``))).toEqual([]);
  });
});
