import { describe, expect, it } from "vitest";
import { findBrowser } from "../scripts/lib/browser.mjs";
import { runNode } from "../scripts/lib/command.mjs";
import { isInstalled } from "../scripts/lib/install.mjs";
import { nodeProblem } from "../scripts/lib/node-version.mjs";
import { inRoot } from "../scripts/lib/root.mjs";
import { addUp } from "../scripts/lib/steps.mjs";

describe("the version of Node", () => {
  it("is refused in one line when too old", () => {
    for (const old of ["16.20.2", "18.20.4", "20.18.3", "21.7.0", "22.11.0"]) {
      expect(nodeProblem(old)).toMatch(/^Brakeyard needs Node 20\.19 or later [^\n]*; this is Node [^\n]*$/);
    }
  });

  it("is accepted from 20.19 on", () => {
    for (const fine of ["20.19.0", "22.12.0", "24.0.0"]) expect(nodeProblem(fine)).toBeUndefined();
  });
});

describe("a mistake at the command line", () => {
  it.each([
    ["start.mjs", ["--port", "pub"], 'The port must be a whole number from 0 to 65535, not "pub".'],
    ["prove.mjs", ["--scale", "0"], '--scale must be a number above 0 and up to 1000, not "0".'],
    ["test.mjs", ["gone"], /^No step is called gone\. The steps: build, .*$/],
  ])("is answered in one line: %s %j", async (script, args, answer) => {
    const { code, output } = await runNode([inRoot("scripts", script), ...args], { quiet: true });
    expect(code).toBe(1);
    const last = output.trim().split("\n").at(-1) ?? "";
    if (typeof answer === "string") expect(last).toBe(answer);
    else expect(last).toMatch(answer);
  });
});

describe("what is installed", () => {
  const wanted = {
    packages: {
      "": {},
      "packages/units": { version: "0.1.0" },
      "node_modules/@brakeyard/units": { link: true },
      "node_modules/a": { version: "1.0.0" },
      "node_modules/only-elsewhere": { version: "2.0.0", optional: true },
    },
  };

  it("will do when every package has the version of the lock file", () => {
    const installed = {
      packages: { "node_modules/@brakeyard/units": { link: true }, "node_modules/a": { version: "1.0.0" } },
    };
    expect(isInstalled(wanted, installed)).toBe(true);
  });

  it("will not do when a package is missing, old, or nothing is installed", () => {
    expect(isInstalled(wanted, undefined)).toBe(false);
    expect(isInstalled(wanted, { packages: { "node_modules/a": { version: "1.0.0" } } })).toBe(false);
    const old = {
      packages: { "node_modules/@brakeyard/units": { link: true }, "node_modules/a": { version: "0.9.0" } },
    };
    expect(isInstalled(wanted, old)).toBe(false);
  });
});

describe("the browser for the browser tests", () => {
  it("is the one named by the setting, or none when that is not there", () => {
    const env = { BRAKEYARD_BROWSER: "/own/browser" };
    expect(findBrowser({ env, exists: (file) => file === "/own/browser" })).toBe("/own/browser");
    expect(findBrowser({ env, exists: () => false })).toBeUndefined();
  });

  it.each([
    ["linux", { PATH: "/usr/bin" }, "/usr/bin/google-chrome"],
    ["darwin", { HOME: "/Users/a" }, "/Applications/Chromium.app/Contents/MacOS/Chromium"],
    ["win32", { PROGRAMFILES: "C:\\Program Files" }, "C:\\Program Files\\Microsoft\\Edge\\Application\\msedge.exe"],
  ] as const)("is found on %s", (platform, env, place) => {
    expect(findBrowser({ platform, env, exists: (file) => file === place })).toBe(place);
  });
});

describe("the totals", () => {
  it("count what was skipped as failed where nothing may be skipped, and only there", () => {
    const counts = [
      { passed: 3, failed: 0, skipped: 1 },
      { passed: 1, failed: 1 },
    ];
    expect(addUp(counts, true)).toEqual({ passed: 4, failed: 2 });
    expect(addUp(counts, false)).toEqual({ passed: 4, failed: 1 });
  });
});
