import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { readArguments } from "./arguments.ts";
import { complain, say } from "./console.ts";
import { EXIT, type ExitCode, Stop } from "./outcome.ts";

/** What bench/speed/index.ts gives. */
interface Bench {
  measure(options: { quick: boolean; root: string; say(line: string): void }): Promise<{ readonly ok: boolean }>;
  benchText(report: unknown): string;
}

/** The clone that this program was built in: it stands in packages/cli/dist. */
const ROOT = fileURLToPath(new URL("../../../", import.meta.url));

/** `brakeyard bench`: measures speed on this machine. It looks inside the engine, so it is built from the clone when asked for. */
export async function benchCommand(args: readonly string[]): Promise<ExitCode> {
  const { values, positionals } = readArguments(args, {
    json: { type: "boolean", default: false },
    quick: { type: "boolean", default: false },
  });
  if (positionals.length > 0) throw new Stop(["bench takes no file"], EXIT.badInput);
  const folder = mkdtempSync(path.join(tmpdir(), "brakeyard-bench-"));
  try {
    const bench = await builtBench(folder);
    const report = await bench.measure({ quick: values.quick, root: ROOT, say: complain });
    say(values.json ? JSON.stringify(report, null, 2) : bench.benchText(report));
    return report.ok ? EXIT.ok : EXIT.failed;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function builtBench(folder: string): Promise<Bench> {
  const entry = path.join(ROOT, "bench", "speed", "index.ts");
  if (!existsSync(entry))
    throw new Stop(["bench works in a clone of the repository: bench/speed is not here"], EXIT.failed);
  const outfile = path.join(folder, "bench.mjs");
  const builder = "esbuild"; // a name in a variable stays out of this program's own bundle
  const { build } = (await import(builder)) as typeof import("esbuild");
  await build({
    entryPoints: [entry],
    outfile,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20.19",
    logLevel: "warning",
  });
  return (await import(pathToFileURL(outfile).href)) as Bench;
}
