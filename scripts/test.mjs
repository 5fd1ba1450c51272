// `npm test`: everything that must hold, from a fresh clone, with one line of totals at the end.
import { bootstrap } from "./lib/bootstrap.mjs";
import { runMain, say } from "./lib/say.mjs";
import { addUp, runSteps, tableOf } from "./lib/steps.mjs";

await runMain(async () => {
  await bootstrap();
  const { steps } = await import("./lib/test-steps.mjs");
  const results = await runSteps(steps, process.argv.slice(2));
  const total = addUp(results);
  say(`\n${tableOf(results)}\n`);
  say(`${total.passed} passed, ${total.failed} failed`);
  if (total.failed > 0) process.exitCode = 1;
});
