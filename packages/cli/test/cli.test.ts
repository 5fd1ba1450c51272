import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { brakeyardIn, program, requireBuilt } from "./program.ts";

const here = path.dirname(fileURLToPath(import.meta.url));
const folder = mkdtempSync(path.join(tmpdir(), "brakeyard-cli-"));
const at = (name: string): string => path.join(folder, name);

// Each test starts the program once or more; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 60_000 });

beforeAll(requireBuilt);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function brakeyard(...args: string[]) {
  return brakeyardIn(folder, ...args);
}

/** A run of the demo bus: one full press, engine off. */
const RUN = {
  format: "brakeyard-run",
  version: 1,
  title: "One press",
  vehicle: { fleet: "harrow-ridge-12" },
  start: { otherTanks: { value: 100, unit: "psi" }, parking: "in", key: "on", compressor: "unloaded" },
  controls: [
    { atS: 1, control: "pedal", value: "full" },
    { atS: 3, control: "pedal", value: "off" },
  ],
  channels: ["gauge.*", "pressure.primary", "lamp.stop"],
  durationS: 5,
  sampleEveryS: 0.5,
};

function runFile(name: string, changes: object = {}): string {
  writeFileSync(at(name), JSON.stringify({ ...RUN, ...changes }));
  return name;
}

describe("brakeyard", () => {
  it("says what it can do, and which it is", () => {
    expect(brakeyard("--help")).toMatchObject({ status: 0, stderr: "" });
    for (const args of [
      ["run", "--help"],
      ["vehicle", "check", "x", "-h"],
      ["checks", "--help"],
      ["help", "bench"],
    ]) {
      const { status, stdout } = brakeyard(...args);
      expect(status).toBe(0);
      expect(stdout.split("\n")[0]).toContain(`brakeyard ${args.find((arg) => arg !== "help")}`);
    }
    expect(brakeyard("--version")).toMatchObject({ status: 0, stdout: "0.1.0\n" });
  });

  it.each([[[]], [["drive"]], [["toString"]], [["vehicle"]], [["vehicle", "mend", "x.json"]]])(
    "refuses %j and says what there is",
    (args) => {
      const { status, stdout, stderr } = brakeyard(...args);
      expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
      expect(stderr).toMatch(/brakeyard vehicle (check|summary) FILE/);
    },
  );

  it.each([
    [["run", "--ou", "x.csv"], "--ou"],
    [["checks", "--only"], "--only"],
    [["vehicle", "check"], "nothing was given"],
    [["vehicle", "check", "a", "b"], "2 things were given"],
    [["checks", "file.json"], "checks takes no file"],
    [["bench", "file.json"], "bench takes no file"],
    [["bench", "--fast"], "--fast"],
    [["checks", "--only", "P-99"], "no check is called P-99; there are P-01"],
  ])("refuses %j in one clear line", (args, words) => {
    const { status, stderr } = brakeyard(...args);
    expect(status).toBe(2);
    expect(stderr).toContain(words);
    expect(stderr).not.toContain("    at ");
  });
});

describe("brakeyard run", () => {
  it("writes columns of numbers, and says what happened and that the balance closes", () => {
    const { status, stdout } = brakeyard("run", runFile("press.json"), "--out", "press.csv");
    expect(status).toBe(0);
    expect(stdout).toContain("One press: 5 s");
    expect(stdout).toMatch(/ 1\.\d\d s {2}stop lamp switch closes/);
    expect(Number(/relative error (\S+)/.exec(stdout)?.[1])).toBeLessThan(1e-4);
    const [head = "", ...rows] = readFileSync(at("press.csv"), "utf8").trim().split("\n");
    expect(head.split(",")[0]).toBe("time [s]");
    const primary = head.split(",").indexOf("pressure.primary [Pa]");
    const values = rows.map((row) => row.split(",").map(Number));
    expect(values.map((row) => row[0])).toEqual([0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5]);
    expect(values.flat().every(Number.isFinite)).toBe(true);
    expect(values[0]?.[primary]).toBeCloseTo(689_475.7, 0);
    expect(values[5]?.[primary]).toBeLessThan(660_000);
  });

  it("writes the same as JSON, with events, balance and fingerprint; twice the same bits", () => {
    const first = brakeyard("run", runFile("press.json"), "--out", "one.json");
    brakeyard("run", "press.json", "--out", "two.json");
    const text = readFileSync(at("one.json"), "utf8");
    expect(readFileSync(at("two.json"), "utf8")).toBe(text);
    const trace = JSON.parse(text);
    expect(trace).toMatchObject({ format: "brakeyard-trace", version: 1, title: "One press" });
    expect(trace.rows.length).toBe(11);
    expect(trace.rows[0].length).toBe(trace.columns.length);
    expect(trace.events.length).toBeGreaterThan(1);
    expect(trace.balance.relativeError).toBeLessThan(1e-4);
    expect(first.stdout).toContain(trace.fingerprint);
  });

  it("finds a vehicle file from the run file's own folder", () => {
    mkdirSync(at("yard"), { recursive: true });
    const fleet = JSON.parse(readFileSync(path.join(here, "../../vehicle/fleet/harrow-ridge-12.json"), "utf8"));
    writeFileSync(at("yard/mine.json"), JSON.stringify({ ...fleet, title: "Mine" }));
    writeFileSync(at("yard/run.json"), JSON.stringify({ ...RUN, vehicle: { file: "mine.json" } }));
    expect(brakeyard("run", "yard/run.json", "--out", "mine.csv").status).toBe(0);
  });

  it.each<[string, object, string]>([
    ["unknown control", { controls: [{ atS: 1, control: "horn", value: 1 }] }, "$.controls[0].control"],
    ["unknown key", { engines: 2 }, "$.engines"],
    ["missing duration", { durationS: undefined }, "$.durationS"],
    ["unknown channel", { channels: ["pressure.boiler"] }, "$.channels[0]"],
    ["unknown fleet vehicle", { vehicle: { fleet: "none" } }, "$.vehicle.fleet"],
    ["vehicle file that is not there", { vehicle: { file: "gone.json" } }, "there is no such file"],
    ["newer version", { version: 2 }, "$.version"],
    [
      "unknown fault place",
      { faults: [{ fault: "burst", name: "b", where: "attic", bore: { value: 6, unit: "mm" } }] },
      "$.faults[0].where",
    ],
    ["wrong type", { durationS: "5" }, "$.durationS"],
    ["missing vehicle", { vehicle: undefined }, "$.vehicle"],
    ["absurd value", { start: { otherTanks: { value: 9000, unit: "psi" } } }, "$.start.otherTanks"],
    ["time between ticks", { durationS: 5.005 }, "$.durationS"],
    ["control that does not go so far", { controls: [{ atS: 1, control: "pedal", value: 2 }] }, "$.controls[0].value"],
    [
      "vehicle that is refused",
      { vehicle: { inline: { format: "brakeyard-vehicle", version: 7 } } },
      "$.vehicle.inline.version",
    ],
    ["no unit", { start: { otherTanks: { value: 100 } } }, "$.start.otherTanks.unit"],
  ])("refuses a run with an %s, and leaves nothing behind", (_, changes, place) => {
    writeFileSync(at("kept.csv"), "older");
    const before = readdirSync(folder).length + (existsSync(at("bad.json")) ? 0 : 1);
    const { status, stdout, stderr } = brakeyard("run", runFile("bad.json", changes), "--out", "kept.csv");
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain(place);
    expect(stderr).not.toContain("    at ");
    expect(readFileSync(at("kept.csv"), "utf8")).toBe("older");
    expect(readdirSync(folder).length).toBe(before);
  });

  it.each([
    [["press.json"], "where shall the trace go"],
    [["press.json", "--out", "trace.xls"], ".csv or .json"],
    [["press.json", "--out", "press.json"], "the run file itself"],
    [["press.json", "--out", "no/such/folder/t.csv"], "there is no such file"],
    [["press.json", "--out", "yard.csv"], "it is a folder"],
    [["gone.json", "--out", "t.csv"], "there is no such file"],
  ])("refuses %j", (args, words) => {
    runFile("press.json");
    mkdirSync(at("yard.csv"), { recursive: true });
    const { status, stderr } = brakeyard("run", ...args);
    expect(status).toBe(2);
    expect(stderr).toContain(words);
    expect(readdirSync(folder).filter((name) => name.includes("partial"))).toEqual([]);
  });
});

describe("brakeyard run, when it cannot end well", () => {
  it("lists everything that is wrong, not only the first", () => {
    const { stderr } = brakeyard(
      "run",
      runFile("many.json", { engines: 2, durationS: "x", channels: [] }),
      "--out",
      "t.csv",
    );
    for (const place of ["$.engines", "$.durationS", "$.channels"]) expect(stderr).toContain(place);
  });

  it("refuses to write over a vehicle file of the run", () => {
    const fleet = readFileSync(path.join(here, "../../vehicle/fleet/harrow-ridge-12.json"), "utf8");
    writeFileSync(at("mine.json"), fleet);
    const { status, stderr } = brakeyard(
      "run",
      runFile("over.json", { vehicle: { file: "mine.json" } }),
      "--out",
      "mine.json",
    );
    expect(status).toBe(2);
    expect(stderr).toContain("this is a vehicle file of the run");
    expect(readFileSync(at("mine.json"), "utf8")).toBe(fleet);
  });

  // Signals of this kind do not reach a program on Windows.
  it.skipIf(process.platform === "win32")(
    "stopped by a signal, it leaves nothing behind and an older file as it was",
    async () => {
      writeFileSync(at("older.csv"), "older");
      const presses = Array.from({ length: 4000 }, (_, i) => ({
        atS: 2 + i,
        control: "pedal",
        value: i % 2 === 0 ? "full" : "off",
      }));
      runFile("long.json", { controls: presses, durationS: 4000, sampleEveryS: 0.01 });
      const child = spawn(process.execPath, [program, "run", "long.json", "--out", "older.csv"], {
        cwd: folder,
        stdio: "ignore",
      });
      const partial = (): boolean =>
        readdirSync(folder).some((name) => name.startsWith("older.csv.") && name.endsWith(".partial"));
      await vi.waitUntil(partial, { timeout: 30_000 });
      child.kill("SIGINT");
      expect(await once(child, "exit")).toEqual([130, null]);
      expect(partial()).toBe(false);
      expect(readFileSync(at("older.csv"), "utf8")).toBe("older");
    },
  );
});

describe("brakeyard vehicle", () => {
  it("accepts the fleet and sums it up", () => {
    expect(brakeyard("vehicle", "check", "fleet:harrow-ridge-12").stdout).toContain("accepted");
    const text = brakeyard("vehicle", "summary", "fleet:harrow-ridge-12").stdout;
    expect(text).toContain("Tanks over chambers: 14.6");
    expect(text).toContain("type 30/30 spring");
    const summary = JSON.parse(brakeyard("vehicle", "summary", "fleet:harrow-ridge-semi", "--json").stdout);
    expect(summary.tankRule.asks).toBe(8);
  });

  it.each<[string, string | Buffer, string]>([
    ["not JSON", '{"format": "brakeyard-vehicle", }', "line 1"],
    ["a list", "[]", "$"],
    ["another format", '{"format": "recipe", "version": 1}', "$.format"],
    ["a newer version", '{"format": "brakeyard-vehicle", "version": 9}', "$.version"],
    ["not text", Buffer.from([0x7b, 0xff, 0xfe, 0x00]), "UTF-8"],
    ["empty", "", "line 1"],
    ["50 MB of noise", Buffer.alloc(50_000_000, 0x41), "are not read"],
  ])("refuses a file that is %s, with place and remedy", (_, content, words) => {
    writeFileSync(at("v.json"), content);
    const { status, stdout, stderr } = brakeyard("vehicle", "check", "v.json");
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain(words);
    expect(stderr).not.toContain("    at ");
    rmSync(at("v.json"));
  });

  // biome-ignore lint/suspicious/noExplicitAny: a file is spoiled in ways that no type allows
  it.each<[string, (file: any) => void, string]>([
    [
      "a negative value",
      (f) => (f.axles[0].brakes.arm.value = -5.5),
      "$.axles[0].brakes.arm.value: -5.5 in is negative",
    ],
    ["an absurd value", (f) => (f.air.governor.cutOut.value = 4000), "$.air.governor.cutOut.value"],
    ["a wrong type", (f) => (f.air.governor.cutOut.value = "125"), "$.air.governor.cutOut.value"],
    ["a missing part", (f) => delete f.air.compressor, "$.air.compressor"],
    ["an unknown key", (f) => (f.air.turbo = {}), "$.air.turbo"],
    ["no unit", (f) => delete f.ratings.gross.unit, "$.ratings.gross.unit"],
    ["an axle neither braked nor declared unbraked", (f) => delete f.axles[1].brakes, "$.axles[1]"],
    ["a tank that feeds itself", (f) => (f.air.reservoirs[1].fedFrom = "primary"), "$.air.reservoirs[1].fedFrom"],
  ])("refuses a file with %s, and names the place", (_, spoil, place) => {
    const file = JSON.parse(readFileSync(path.join(here, "../../vehicle/fleet/harrow-ridge-12.json"), "utf8"));
    spoil(file);
    writeFileSync(at("v.json"), JSON.stringify(file));
    const { status, stdout, stderr } = brakeyard("vehicle", "check", "v.json");
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toContain(place);
    expect(stderr).not.toContain("    at ");
  });

  it("names the fleet's vehicles when asked for one that it has not", () => {
    expect(brakeyard("vehicle", "check", "fleet:none")).toMatchObject({
      status: 2,
      stderr: expect.stringContaining("harrow-ridge-12"),
    });
  });
});

describe("brakeyard checks", () => {
  it("prints one with source and margin, and ends well", () => {
    const { status, stdout } = brakeyard("checks", "--only", "P-08");
    expect(status).toBe(0);
    expect(stdout).toMatch(/ok {3}P-08[\s\S]*source: [\s\S]*expected 30\.3 {2}margin 0\.\d\d[\s\S]*1 of 1 checks hold/);
  });

  it("gives all of it as JSON", () => {
    const { checks } = JSON.parse(brakeyard("checks", "--json", "--only", "P-08", "--only", "P-02").stdout);
    expect(checks.map((one: { id: string }) => one.id)).toEqual(["P-02", "P-08"]);
    expect(checks[1]).toMatchObject({
      ok: true,
      kind: "published case",
      comparisons: [{ expected: "30.3", ok: true }],
    });
  });
});
