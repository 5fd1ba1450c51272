import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { Simulation } from "@brakeyard/engine";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { main } from "../src/main.ts";

/** What the disk answers, when it is to refuse. */
const disk = vi.hoisted(() => ({ refuses: "", code: "" }));

vi.mock("node:fs", async (original) => {
  const fs = await original<typeof import("node:fs")>();
  const refuse = <A extends unknown[], R>(what: string, real: (...args: A) => R) => {
    return (...args: A): R => {
      if (disk.refuses === what) throw Object.assign(new Error("refused"), { code: disk.code });
      return real(...args);
    };
  };
  return {
    ...fs,
    fsyncSync: refuse("fsync", fs.fsyncSync),
    renameSync: refuse("rename", fs.renameSync),
    writeFileSync: refuse("write", fs.writeFileSync),
  };
});

const RUN = {
  format: "brakeyard-run",
  version: 1,
  vehicle: { fleet: "harrow-ridge-12" },
  start: { otherTanks: { value: 100, unit: "psi" }, parking: "in" },
  durationS: 2,
};

let folder = "";
let told = "";

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), "brakeyard-trouble-"));
  writeFileSync(path.join(folder, "run.json"), JSON.stringify(RUN));
  writeFileSync(path.join(folder, "trace.csv"), "older");
  told = "";
  vi.spyOn(process.stdout, "write").mockReturnValue(true);
  vi.spyOn(process.stderr, "write").mockImplementation((text) => {
    told += String(text);
    return true;
  });
});

afterEach(() => {
  vi.restoreAllMocks();
  disk.refuses = "";
  rmSync(folder, { recursive: true, force: true });
});

function run(): Promise<number> {
  return main(["run", path.join(folder, "run.json"), "--out", path.join(folder, "trace.csv")]);
}

function nothingHalfDone(): void {
  expect(readdirSync(folder).sort()).toEqual(["run.json", "trace.csv"]);
  expect(readFileSync(path.join(folder, "trace.csv"), "utf8")).toBe("older");
}

describe("brakeyard run", () => {
  it("whose engine cannot go on ends with 1, says when and why, and leaves nothing half-done", async () => {
    vi.spyOn(Simulation.prototype, "advanceTo").mockReturnValue({
      ok: false,
      tick: 0,
      message: "the step size fell to nothing",
    });
    expect(await run()).toBe(1);
    expect(told).toMatch(
      /the run could not go on: the step size fell to nothing \(it stood at 0 s; no trace was written\)/,
    );
    nothingHalfDone();
  });

  it.each([
    ["write", "ENOSPC", "the disk is full"],
    ["fsync", "ENOSPC", "the disk is full"],
    ["rename", "EACCES", "it may not be read or written"],
  ])("whose file is not taken by the disk (%s: %s) ends with 1 and says so", async (refuses, code, words) => {
    Object.assign(disk, { refuses, code });
    expect(await run()).toBe(1);
    expect(told).toContain(words);
    expect(told).not.toContain("    at ");
    nothingHalfDone();
  });

  it("that goes well writes the file whole", async () => {
    expect(await run()).toBe(0);
    expect(readFileSync(path.join(folder, "trace.csv"), "utf8").trim().split("\n").length).toBe(22);
  });

  it("with a fault of its own shows it in full and ends with 1", async () => {
    vi.spyOn(Simulation.prototype, "sample").mockImplementation(() => {
      throw new Error("a fault of ours");
    });
    expect(await run()).toBe(1);
    expect(told).toMatch(/a fault of ours\n\s+at /);
    nothingHalfDone();
  });
});
