import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { loadRun, loadVehicle } from "../src/index.ts";
import * as application from "../src/parts/application.ts";
import * as cab from "../src/parts/cab.ts";
import { catalogue } from "../src/parts/catalogue.ts";
import { CHAMBERS } from "../src/parts/chambers.ts";
import * as chassis from "../src/parts/chassis.ts";
import * as parking from "../src/parts/parking.ts";
import * as supply from "../src/parts/supply.ts";
import * as trailer from "../src/parts/trailer.ts";
import * as wheelEnd from "../src/parts/wheelEnd.ts";
import { runSchema } from "../src/run/runSchema.ts";
import { partTables } from "../test-support/partTables.ts";
import { finish } from "../test-support/runToEnd.ts";

const root = join(import.meta.dirname, "..", "..", "..");
const vehiclePage = readFileSync(join(root, "docs", "vehicle-file.md"), "utf8");
const runPage = readFileSync(join(root, "docs", "run-file.md"), "utf8");

function examples(page: string): string[] {
  return [...page.matchAll(/```json\n([\s\S]*?)```/g)].map((block) => String(block[1]));
}

function noFiles(): string {
  throw new Error("no such file");
}

describe("docs/vehicle-file.md", () => {
  it.each(examples(vehiclePage).map((text, i) => [i + 1, text]))("example %i is accepted", (_number, text) => {
    expect(loadVehicle(String(text))).toMatchObject({ ok: true });
  });

  it("has two examples: a bus and a trailer", () => {
    expect(examples(vehiclePage).map((text) => JSON.parse(text).kind)).toEqual(["bus", "trailer"]);
  });

  it("has the tables of the parts as they are", () => {
    const [, rest = ""] = vehiclePage.split(/<!-- parts:.*-->\n/);
    expect(rest.split("<!-- end of parts -->")[0]?.trim()).toBe(partTables().trim());
  });

  it("has the table of chamber types as it is", () => {
    const rows = Object.entries(CHAMBERS).map(([type, row]) => {
      const strokes = Object.values(row.strokeIn).join(", ");
      return `| ${type} | ${row.areaIn2} | ${strokes} | ${row.ratedIn3} |`;
    });
    expect(rows.filter((row) => !vehiclePage.includes(row))).toEqual([]);
  });

  it("lists every part there is", () => {
    const modules = [application, cab, chassis, parking, supply, trailer, wheelEnd].flatMap((one) =>
      Object.values(one),
    );
    const parts = modules.filter((one) => typeof one === "object" && one !== null && "fields" in one);
    expect(new Set(catalogue.map((one) => one.part))).toEqual(new Set(parts));
  });
});

describe("docs/run-file.md", { timeout: 30_000 }, () => {
  it.each(examples(runPage).map((text, i) => [i + 1, text]))(
    "example %i is accepted and runs to its end",
    (_number, text) => {
      const loaded = loadRun(String(text), noFiles);
      if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
      expect(finish(loaded.run).timesS.at(-1)).toBe(loaded.run.durationTicks / 100);
    },
  );

  it("names every key of a run", () => {
    const keys = Object.keys((runSchema as unknown as { shape: object }).shape);
    expect(keys.filter((key) => !runPage.includes(`\`${key}\``))).toEqual([]);
  });

  it("names every fault", () => {
    const source = readFileSync(join(import.meta.dirname, "..", "src", "run", "faultSchema.ts"), "utf8");
    const faults = [...source.matchAll(/kinds\("(\w+)"/g)].map((one) => String(one[1]));
    expect(faults.length).toBeGreaterThan(20);
    expect(faults.filter((fault) => !runPage.includes(`\`${fault}\``))).toEqual([]);
  });
});

describe("stored files of every format version", () => {
  const folder = join(import.meta.dirname, "..", "examples");

  it("are there, one of each", () => {
    expect(readdirSync(folder).sort()).toEqual(["README.md", "run-version-1.json", "vehicle-version-1.json"]);
  });

  it("are accepted for ever", () => {
    for (const name of readdirSync(folder).filter((one) => one.endsWith(".json"))) {
      const text = readFileSync(join(folder, name), "utf8");
      const loaded = name.startsWith("run")
        ? loadRun(text, (file) => readFileSync(join(folder, file), "utf8"))
        : loadVehicle(text);
      expect(loaded).toMatchObject({ ok: true });
    }
  });
});
