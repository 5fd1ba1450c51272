import { readdirSync, readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { expect, it } from "vitest";
import { inRoot } from "../../scripts/lib/root.mjs";

/** Size of all scripts of the first load, bytes gzipped. */
const FIRST_LOAD_BYTES = 200_000;

it("loads less than 200 kB of script, gzipped, page and engine together", () => {
  const folder = inRoot("packages", "web", "dist", "assets");
  const scripts = readdirSync(folder).filter((name) => name.endsWith(".js"));
  const bytes = scripts.reduce((sum, name) => sum + gzipSync(readFileSync(`${folder}/${name}`)).length, 0);
  console.log(`first-load script: ${(bytes / 1000).toFixed(1)} kB gzipped`);
  expect(scripts.length).toBeGreaterThan(1);
  expect(bytes).toBeLessThan(FIRST_LOAD_BYTES);
});
