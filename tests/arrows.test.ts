import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { inRoot } from "../scripts/lib/root.mjs";
import { againstArrows, arrows } from "./guards/arrows.ts";
import { filesUnder } from "./guards/files.ts";

const PURE = ["packages/units", "packages/engine", "packages/vehicle", "packages/rulebook"];

function faults(path: string, text: string): string[] {
  return againstArrows({ path, text });
}

/** The fields of the settings files that matter here. */
interface Settings {
  readonly workspaces: readonly string[];
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly compilerOptions: unknown;
}

function readJson(file: string): Settings {
  return JSON.parse(readFileSync(inRoot(file), "utf8"));
}

describe("imports follow the arrows", () => {
  it.each(Object.keys(arrows))("in %s", (folder) => {
    const files = filesUnder(folder, /\.(ts|tsx|mts|mjs)$/).filter((file) => !file.path.includes("/bin/"));
    expect(files.length).toBeGreaterThan(0);
    expect(files.flatMap(againstArrows)).toEqual([]);
  });

  it("and every workspace has arrows", () => {
    expect(readJson("package.json").workspaces).toEqual(expect.arrayContaining(Object.keys(arrows)));
    expect(readJson("package.json").workspaces.length).toBe(Object.keys(arrows).length);
  });
});

describe("dependencies follow the arrows", () => {
  it.each(Object.keys(arrows))("in %s/package.json", (folder) => {
    const own = Object.keys(readJson(`${folder}/package.json`).dependencies ?? {}).filter((name) =>
      name.startsWith("@brakeyard/"),
    );
    const allowed = (arrows[folder]?.packages ?? []).map((name) => `@brakeyard/${name}`);
    expect(own.filter((name) => !allowed.includes(name))).toEqual([]);
  });
});

describe("the exact packages compile without surroundings", () => {
  it.each(PURE)("%s", (folder) => {
    const options = readJson(`${folder}/tsconfig.json`).compilerOptions;
    expect(options).toMatchObject({ lib: ["ES2022"], types: [] });
  });
});

describe("the test of the arrows sees", () => {
  it.each([
    ["packages/units/src/a.ts", 'import { x } from "@brakeyard/engine";'],
    ["packages/engine/src/a.ts", 'import type { X } from "@brakeyard/vehicle";'],
    ["packages/engine/src/a.ts", 'export { x } from "@brakeyard/vehicle";'],
    ["packages/engine/src/a.ts", 'type X = import("@brakeyard/vehicle").X;'],
    ["packages/engine/src/a.ts", 'const x = await import("@brakeyard/vehicle");'],
    ["packages/engine/src/a.ts", 'const x = require("node:fs");'],
    ["packages/engine/src/a.ts", 'import fs from "node:fs";'],
    ["packages/engine/src/a.ts", 'import { z } from "zod";'],
    ["packages/engine/src/a.ts", 'import { x } from "../../vehicle/src/index.ts";'],
    ["packages/engine/src/a.ts", '/// <reference types="node" />'],
    ["packages/vehicle/src/a.ts", 'import { x } from "@brakeyard/engine/src/run.ts";'],
    ["checks/src/a.ts", 'import { x } from "@brakeyard/vehicle/test-support";'],
    ["packages/web/src/a.tsx", 'import { serve } from "@brakeyard/server";'],
    ["packages/cli/src/a.ts", 'import { page } from "@brakeyard/web";'],
    ["packages/engine/src/a.ts", 'import { it } from "vitest";'],
    ["packages/rulebook/src/a.ts", 'import { loadVehicle } from "@brakeyard/vehicle";'],
    ["elsewhere/a.ts", ""],
  ])("%s: %s", (path, text) => {
    expect(faults(path, text).length).toBe(1);
  });
});

describe("the test of the arrows leaves alone", () => {
  it.each([
    ["packages/engine/src/a.ts", 'import { pow } from "@brakeyard/units";'],
    ["packages/engine/src/sub/a.ts", 'import { x } from "../b.ts";'],
    ["packages/engine/src/a.test.ts", 'import { it } from "vitest";'],
    ["packages/web/src/a.ts", 'import "@fontsource-variable/atkinson-hyperlegible-next/index.css";'],
    ["packages/vehicle/test-support/a.ts", 'import fc from "fast-check";'],
    ["checks/test/a.test.ts", 'import { x } from "@brakeyard/vehicle/test-support";'],
    ["packages/server/src/a.ts", 'import path from "node:path";'],
  ])("%s: %s", (path, text) => {
    expect(faults(path, text)).toEqual([]);
  });
});
