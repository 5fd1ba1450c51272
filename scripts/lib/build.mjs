// Loaded only after the bootstrap: it needs esbuild and Vite.
import { build as esbuild } from "esbuild";
import { build as vite } from "vite";
import { inRoot } from "./root.mjs";

/** Some packages inside the bundle still call `require`; an ES module has none of its own. */
const requireForBundles =
  'import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);';

/**
 * Bundles one Node program.
 * @param {string} entry
 * @param {string} outfile
 * @param {import("esbuild").BuildOptions} [extra]
 */
export async function bundleForNode(entry, outfile, extra = {}) {
  await esbuild({
    entryPoints: [entry],
    outfile,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20.19",
    sourcemap: true,
    logLevel: "warning",
    banner: { js: requireForBundles },
    ...extra,
  });
}

/** The command line program, whole in one file. */
export function buildCli() {
  return bundleForNode(
    inRoot("packages", "cli", "src", "index.ts"),
    inRoot("packages", "cli", "dist", "brakeyard.mjs"),
  );
}

/** The server; its packages stay outside the bundle. */
function buildServer() {
  return bundleForNode(
    inRoot("packages", "server", "src", "index.ts"),
    inRoot("packages", "server", "dist", "server.mjs"),
    {
      packages: "external",
    },
  );
}

/** The page. */
async function buildWeb() {
  const place = inRoot("packages", "web");
  await vite({ root: place, configFile: inRoot("packages", "web", "vite.config.ts"), logLevel: "warn" });
}

/** Everything that a person can run. */
export async function buildAll() {
  await Promise.all([buildCli(), buildServer(), buildWeb()]);
}
