// `npm run prove`: the long proofs. A run that was stopped goes on where it was. With names, only those proofs run and
// docs/proof.md stays as it is.
import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import util from "node:util";
import { bootstrap, requireNode } from "./lib/bootstrap.mjs";
import { run } from "./lib/command.mjs";
import { proofPage } from "./lib/proof-page.mjs";
import { joinFigures, keeps, readState, writeState } from "./lib/prove-state.mjs";
import { inRoot } from "./lib/root.mjs";
import { PlainError, runMain, say } from "./lib/say.mjs";

const BUNDLE = inRoot(".prove", "proofs.mjs");
const STATE = inRoot(".prove", "state.json");
const PAGE = inRoot("docs", "proof.md");

/** @typedef {import("../bench/proofs/proof.ts").Proof} Proof */

/** What the person asked for. */
function settings() {
  const { values, positionals } = util.parseArgs({
    allowPositionals: true,
    options: {
      seed: { type: "string", default: "1" },
      scale: { type: "string", default: "1" },
      fresh: { type: "boolean", default: false },
    },
  });
  const scale = Number(values.scale);
  if (!(scale > 0 && scale <= 1000))
    throw new PlainError(`--scale must be a number above 0 and up to 1000, not "${values.scale}".`);
  return { seed: values.seed, scale, fresh: values.fresh, names: positionals };
}

/**
 * The proofs asked for.
 * @param {string[]} names
 * @returns {Promise<Proof[]>}
 */
async function wanted(names) {
  const { bundleForNode } = await import("./lib/build.mjs");
  await bundleForNode(inRoot("bench", "proofs", "index.ts"), BUNDLE, { packages: "bundle", sourcemap: false });
  const { proofs } = await import(pathToFileURL(BUNDLE).href);
  const unknown = names.filter((name) => !proofs.some((/** @type {Proof} */ proof) => proof.name === name));
  if (unknown.length > 0) throw new PlainError(`No proof is called ${unknown.join(", ")}.`);
  return proofs.filter((/** @type {Proof} */ proof) => names.length === 0 || names.includes(proof.name));
}

/** @param {string} line rewritten in place on a terminal, not shown elsewhere */
function showProgress(line) {
  if (process.stdout.isTTY) process.stdout.write(`\r${line}   `);
}

/**
 * Runs one proof, part by part, keeping each part as it is done.
 * @param {Proof} proof
 * @param {import("./lib/prove-state.mjs").State} state
 * @param {{ seed: string, scale: number }} how
 */
async function prove(proof, state, { seed, scale }) {
  for (const part of proof.parts) {
    const id = `${proof.name} ${part}`;
    if (state.done[id]) {
      say(`${id}: done earlier`);
      continue;
    }
    const start = performance.now();
    const progress = (/** @type {number} */ share) => showProgress(`${id}: ${(share * 100).toFixed(0)} %`);
    const figures = [...(await proof.run(part, { seed, scale, progress }))];
    state.done[id] = { figures, seconds: (performance.now() - start) / 1000 };
    writeState(STATE, state);
    showProgress("");
    say(
      `${id}: ${figures.map((f) => `${f.value.toPrecision(3)} ${f.unit} (at most ${f.limit})${keeps(f) ? "" : " NOT KEPT"}`).join(", ")}`,
    );
  }
}

/** The commit, and whether files differ from it. */
async function commitName() {
  const head = await run("git", ["rev-parse", "--short=12", "HEAD"], { quiet: true });
  if (head.code !== 0) return "unknown";
  const changes = await run("git", ["status", "--porcelain", "--untracked-files=no"], { quiet: true });
  return head.output.trim() + (changes.output.trim() === "" ? "" : " with changes");
}

await runMain(async () => {
  requireNode();
  const how = settings();
  await bootstrap();
  const proofs = await wanted(how.names);
  const code = createHash("sha256").update(readFileSync(BUNDLE)).digest("hex");
  const key = `${code} ${how.seed} ${how.scale}`;
  const state = how.fresh ? { key, done: {} } : readState(STATE, key);
  const proven = [];
  for (const proof of proofs) {
    await prove(proof, state, how);
    const parts = proof.parts.map((part) => state.done[`${proof.name} ${part}`]).filter((one) => one !== undefined);
    const seconds = parts.reduce((total, one) => total + one.seconds, 0);
    proven.push({
      name: proof.name,
      claim: proof.claim,
      figures: joinFigures(parts.flatMap((one) => one.figures)),
      seconds,
    });
  }
  if (how.names.length === 0) {
    const date = new Date().toISOString().slice(0, 10);
    writeFileSync(PAGE, proofPage({ ...how, date, commit: await commitName(), node: process.versions.node }, proven));
    say("Written to docs/proof.md.");
  }
  const broken = proven.flatMap((one) => one.figures).filter((figure) => !keeps(figure));
  if (broken.length > 0) throw new PlainError(`Not kept: ${broken.map((figure) => figure.name).join(", ")}.`);
});
