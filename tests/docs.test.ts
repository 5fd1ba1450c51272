import { existsSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { inRoot } from "../scripts/lib/root.mjs";
import {
  anchorsIn,
  brokenLinks,
  linksIn,
  npmScriptsIn,
  pathsNamedIn,
  referenceKeysIn,
  sourceKeysIn,
} from "./guards/docs.ts";
import { filesUnder } from "./guards/files.ts";

const pages = filesUnder(".", /\.md$/);
const readText = (file: string): string => readFileSync(inRoot(file), "utf8");
const scripts: Readonly<Record<string, string>> = JSON.parse(readText("package.json")).scripts;

describe("pages", () => {
  it.each(pages.map((page) => [page.path, page] as const))("%s: every link resolves", (_path, page) => {
    expect(brokenLinks(page, readText)).toEqual([]);
  });

  it.each(pages.map((page) => [page.path, page] as const))(
    "%s: every path and command named is there",
    (_path, page) => {
      expect(pathsNamedIn(page.text).filter((file) => !existsSync(inRoot(file)))).toEqual([]);
      expect(npmScriptsIn(page.text).filter((name) => !scripts[name])).toEqual([]);
    },
  );

  it("CONTRIBUTING names every command of package.json, and the steps of npm test as they are", async () => {
    const text = readText("CONTRIBUTING.md");
    expect(npmScriptsIn(text).sort()).toEqual(Object.keys(scripts).sort());
    const { stepNames } = await import("../scripts/lib/test-steps.mjs");
    for (const name of stepNames) expect(text).toContain(`\`${name}\``);
  });

  it("continuous integration runs what CONTRIBUTING says", () => {
    expect(readText(".ci/run")).toMatch(/^exec npm test$/m);
  });

  it("the list of decisions is complete", () => {
    const list = readText("docs/decisions/README.md");
    const files = filesUnder("docs/decisions", /^\d{4}-.*\.md$/).map((file) => file.path.split("/").at(-1));
    expect(linksIn(list).sort()).toEqual(files.sort());
  });
});

describe("sources", () => {
  const code = ["packages", "checks", "bench"].flatMap((folder) => filesUnder(folder, /\.(ts|tsx|py)$/));
  const used = new Set(code.flatMap((file) => sourceKeysIn(file.text)));
  const known = referenceKeysIn(readText("docs/references.md"));

  it("named in the code stand in docs/references.md", () => {
    expect([...used].filter((key) => !known.includes(key))).toEqual([]);
  });

  it("in docs/references.md are used, and stand there once", () => {
    expect(known.filter((key) => !used.has(key))).toEqual([]);
    expect(new Set(known).size).toBe(known.length);
  });
});

describe("the lock file", () => {
  it("names no host", () => {
    expect(readText("package-lock.json")).not.toMatch(/"resolved": "[a-z+]+:\/\//);
  });
});

describe("these tests see", () => {
  const sample = { path: "docs/sample.md", text: "" };

  it("a link to a missing file, a missing anchor, and nothing else", () => {
    const text =
      "[a](gone.md) [b](limits.md) [c](limits.md#air) [d](limits.md#gone) [e](https://example.org) `[f](gone.md)`\n\n[g]: also-gone.md";
    expect(brokenLinks({ ...sample, text }, readText)).toEqual(["gone.md", "limits.md#gone", "also-gone.md"]);
  });

  it("headings as anchors", () => {
    expect(anchorsIn("# One run, from file to trace\n## Air")).toEqual(["one-run-from-file-to-trace", "air"]);
  });

  it("paths, commands and keys", () => {
    expect(pathsNamedIn("see `packages/gone/x.ts` and `tests/docs.test.ts`")).toEqual([
      "packages/gone/x.ts",
      "tests/docs.test.ts",
    ]);
    expect(npmScriptsIn("`npm run gone`, npm test, npm start")).toEqual(["gone", "test", "start"]);
    expect(sourceKeysIn("/** text [Not]. @source [A1] x; [B2] y */ const a = b[C3];")).toEqual(["A1", "B2"]);
    expect(referenceKeysIn("| key | x |\n|---|---|\n| A1 | t |\n")).toEqual(["A1"]);
  });
});
