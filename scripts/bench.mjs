// `npm run bench`: builds the command line and measures it; what follows is handed on to `brakeyard bench`.
import { bootstrap } from "./lib/bootstrap.mjs";
import { runNode } from "./lib/command.mjs";
import { inRoot } from "./lib/root.mjs";
import { runMain } from "./lib/say.mjs";

await runMain(async () => {
  await bootstrap();
  const { buildCli } = await import("./lib/build.mjs");
  await buildCli();
  const { code } = await runNode([
    inRoot("packages", "cli", "dist", "brakeyard.mjs"),
    "bench",
    ...process.argv.slice(2),
  ]);
  process.exitCode = code;
});
