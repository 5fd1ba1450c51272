import { keeps } from "./prove-state.mjs";

/**
 * @typedef {import("./prove-state.mjs").Figure} Figure
 * @typedef {{ name: string, claim: string, figures: Figure[], seconds: number }} Proven
 * @typedef {{ date: string, commit: string, seed: string, scale: number, node: string }} Circumstances
 */

/** @param {number} value */
function short(value) {
  return value !== 0 && (Math.abs(value) < 1e-3 || Math.abs(value) >= 1e6)
    ? value.toExponential(2)
    : String(Number(value.toPrecision(4)));
}

/** @param {Proven} proven */
function sectionOf({ name, claim, figures, seconds }) {
  const rows = figures.map(
    (figure) =>
      `| ${figure.name} | ${short(figure.value)} | ${short(figure.limit)} | ${figure.unit} | ${keeps(figure) ? "kept" : "**NOT KEPT**"} |`,
  );
  return [
    `## ${name}`,
    "",
    claim,
    "",
    "| figure | found | at most | unit | |",
    "|---|---|---|---|---|",
    ...rows,
    "",
    `Took ${seconds.toFixed(0)} s.`,
  ].join("\n");
}

/**
 * The page docs/proof.md.
 * @param {Circumstances} how
 * @param {Proven[]} list
 */
export function proofPage(how, list) {
  const head = [
    "# Proof",
    "",
    "Written by `npm run prove`; do not edit. These are runs too long for every change. The short form of each runs in `npm test`.",
    "",
    `${how.date}, commit ${how.commit}, seed \`${how.seed}\`, size ${how.scale}, Node ${how.node}.`,
  ].join("\n");
  return `${[head, ...list.map(sectionOf)].join("\n\n")}\n`;
}
