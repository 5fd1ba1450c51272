// `npm start`: install, build, serve.

import { pathToFileURL } from "node:url";
import util from "node:util";
import { bootstrap, requireNode } from "./lib/bootstrap.mjs";
import { inRoot } from "./lib/root.mjs";
import { PlainError, runMain, say } from "./lib/say.mjs";

const DEFAULT_PORT = 8470;

/**
 * The port asked for by `--port` or the PORT setting.
 * @param {string[]} args
 * @param {string | undefined} setting
 */
function wantedPort(args, setting) {
  const { values } = util.parseArgs({ args, options: { port: { type: "string" } }, strict: true });
  const text = values.port ?? setting;
  if (text === undefined || text === "") return DEFAULT_PORT;
  const port = Number(text);
  if (Number.isInteger(port) && port >= 0 && port <= 65535) return port;
  throw new PlainError(`The port must be a whole number from 0 to 65535, not "${text}".`);
}

await runMain(async () => {
  requireNode();
  const port = wantedPort(process.argv.slice(2), process.env["PORT"]);
  await bootstrap();
  say("Building ...");
  const { buildAll } = await import("./lib/build.mjs");
  await buildAll();
  const { serve } = await import(pathToFileURL(inRoot("packages", "server", "dist", "server.mjs")).href);
  const served = await serve({ webRoot: inRoot("packages", "web", "dist"), port });
  say(
    `Brakeyard is ready:\n${served.addresses.map((/** @type {string} */ a) => `  ${a}`).join("\n")}\nPress Ctrl+C to stop.`,
  );
});
