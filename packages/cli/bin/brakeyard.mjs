#!/usr/bin/env node
// The entry that `npx brakeyard` finds. The program itself is built into dist/ by `npm start` and `npm test`.
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

const built = new URL("../dist/brakeyard.mjs", import.meta.url);
if (existsSync(fileURLToPath(built))) {
  await import(built.href);
} else {
  process.stderr.write("brakeyard is not built yet: run `npm start` or `npm test` once in this folder.\n");
  process.exitCode = 1;
}
