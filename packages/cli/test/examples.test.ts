import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { fromSi } from "@brakeyard/units";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { brakeyardIn, requireBuilt, root } from "./program.ts";

vi.setConfig({ testTimeout: 60_000 });
beforeAll(requireBuilt);

const examples = path.join(root, "examples");
const names = readdirSync(examples).filter((name) => name.endsWith(".json"));
const readme = readFileSync(path.join(examples, "README.md"), "utf8");
const folder = mkdtempSync(path.join(tmpdir(), "brakeyard-examples-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function formatOf(name: string): string {
  return JSON.parse(readFileSync(path.join(examples, name), "utf8")).format;
}

interface Trace {
  readonly columns: readonly { readonly id: string }[];
  readonly rows: readonly (readonly number[])[];
  readonly events: readonly { readonly timeS: number; readonly id: string; readonly on: boolean }[];
  readonly balance: { readonly relativeError: number };
}

const read = new Map<string, ReturnType<typeof runExample>>();

/** The trace of an example, run once. */
function traceOf(name: string): ReturnType<typeof runExample> {
  const known = read.get(name) ?? runExample(name);
  read.set(name, known);
  return known;
}

function runExample(name: string) {
  const out = path.join(folder, name);
  const { status, stderr } = brakeyardIn(root, "run", path.join("examples", name), "--out", out);
  if (status !== 0) throw new Error(stderr);
  const trace: Trace = JSON.parse(readFileSync(out, "utf8"));
  const value = (timeS: number, channel: string): number => {
    const at = trace.columns.findIndex((column) => column.id === channel);
    return trace.rows.find((row) => Math.abs(row[0]! - timeS) < 1e-6)?.[at] ?? Number.NaN;
  };
  const psi = (timeS: number, channel: string): number => fromSi("pressure", value(timeS, channel), "psi");
  const event = (id: string, on: boolean): number =>
    trace.events.find((e) => e.id === id && e.on === on)?.timeS ?? Number.NaN;
  return { trace, value, psi, event };
}

describe("the examples", () => {
  it("are all described", () => {
    for (const name of names) expect(readme).toContain(`\`examples/${name}\``);
  });

  it.each(names.filter((name) => formatOf(name) === "brakeyard-vehicle"))("%s is accepted", (name) => {
    expect(brakeyardIn(examples, "vehicle", "check", name)).toMatchObject({ status: 0, stderr: "" });
  });

  it.each(names.filter((name) => formatOf(name) === "brakeyard-run"))("%s runs, and its balance closes", (name) => {
    expect(traceOf(name).trace.balance.relativeError).toBeLessThan(1e-4);
  });

  it("morning-check: tight while released, about 3 psi in a minute with the pedal down, out at the measured pop-out", () => {
    const { psi, event, value } = traceOf("morning-check.json");
    expect(event("governor.loaded", false)).toBeLessThan(170);
    expect(psi(190, "gauge.test.primary") - psi(249.5, "gauge.test.primary")).toBeLessThan(0.6);
    const held = psi(265, "gauge.test.primary") - psi(325, "gauge.test.primary");
    expect(held).toBeGreaterThan(2.4);
    expect(held).toBeLessThan(4);
    const pop = event("control.parking", false);
    expect(pop).toBeGreaterThan(335);
    expect(value(420, "control.parking")).toBe(0);
    expect(value(420, "lamp.lowAir")).toBe(1);
  });

  it("fan-down: each application takes a little less than the one before", () => {
    const { psi } = traceOf("fan-down.json");
    const readings = [5, 40, 75, 110, 145, 180, 215, 250, 285].map((timeS) => psi(timeS, "pressure.primary"));
    const drops = readings.slice(1).map((reading, i) => readings[i]! - reading);
    expect([...drops].sort((a, b) => b - a)).toEqual(drops);
    expect(drops[0]).toBeLessThan(9);
    expect(drops.at(-1)).toBeGreaterThan(3);
  });

  it("supply-line-parts: the control pops, the trailer's springs come on, the tractor's tanks hold", () => {
    const { psi, value, event } = traceOf("supply-line-parts.json");
    expect(event("control.trailerSupply", false)).toBeGreaterThan(5);
    expect(event("control.trailerSupply", false)).toBeLessThan(7);
    expect(value(30, "springForce.trailer.rear.left")).toBeGreaterThan(5000);
    expect(Math.abs(psi(60, "pressure.primary") - psi(10, "pressure.primary"))).toBeLessThan(0.5);
  });
});
