// `npm run bench`: builds everything, measures the engine (what follows is handed on to `brakeyard bench`), then the page in a browser.
import { bootstrap } from "./lib/bootstrap.mjs";
import { runNode } from "./lib/command.mjs";
import { inRoot } from "./lib/root.mjs";
import { runMain } from "./lib/say.mjs";

await runMain(async () => {
  await bootstrap();
  const { buildAll } = await import("./lib/build.mjs");
  await buildAll();
  const { code } = await runNode([
    inRoot("packages", "cli", "dist", "brakeyard.mjs"),
    "bench",
    ...process.argv.slice(2),
  ]);
  const vitest = inRoot("node_modules", "vitest", "vitest.mjs");
  const page = await runNode([vitest, "run", "--project", "measure"]);
  process.exitCode = code || page.code;
});
