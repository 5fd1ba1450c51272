import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";

/**
 * @typedef {{ name: string, value: number, unit: string, limit: number }} Figure
 * @typedef {{ figures: Figure[], seconds: number }} PartResult
 * @typedef {{ key: string, done: Record<string, PartResult> }} State
 */

/**
 * What an earlier run finished, if it was the same code, seed and size; otherwise nothing.
 * @param {string} file
 * @param {string} key stands for code, seed and size
 * @returns {State}
 */
export function readState(file, key) {
  try {
    const state = JSON.parse(readFileSync(file, "utf8"));
    if (state.key === key) return state;
  } catch {
    // No earlier run, or one that cannot be read: start afresh.
  }
  return { key, done: {} };
}

/**
 * @param {string} file
 * @param {State} state
 */
export function writeState(file, state) {
  mkdirSync(path.dirname(file), { recursive: true });
  writeFileSync(file, `${JSON.stringify(state, null, 2)}\n`);
}

/**
 * Joins the figures of several parts: of those with one name, the largest counts.
 * @param {Figure[]} figures
 * @returns {Figure[]}
 */
export function joinFigures(figures) {
  /** @type {Map<string, Figure>} */
  const byName = new Map();
  for (const figure of figures) {
    const known = byName.get(figure.name);
    // NaN counts as worse than anything.
    if (!known || !(figure.value <= known.value)) byName.set(figure.name, figure);
  }
  return [...byName.values()];
}

/**
 * Whether a figure keeps its limit; NaN does not.
 * @param {Figure} figure
 */
export function keeps(figure) {
  return figure.value <= figure.limit;
}
