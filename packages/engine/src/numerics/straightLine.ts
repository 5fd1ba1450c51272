import type { SparseLuPlan } from "./sparseLu.ts";

/**
 * Straight-line code for work whose pattern is known: the same operations in the same order as the loops over tables, with the
 * indices written in. It gives the same bits (tested) several times faster. Where a page's policy forbids code made from text,
 * the tables are used instead.
 */
export type CodeMaker = (text: string) => unknown;

/** Makes values from text, each text once, so that all runs share one function; undefined where that is forbidden. */
export function codeMaker(): CodeMaker | undefined {
  const made = new Map<string, unknown>();
  const make: CodeMaker = (text) => {
    if (!made.has(text)) made.set(text, new Function(`"use strict";return ${text};`)());
    return made.get(text);
  };
  try {
    return make("1 + 1") === 2 ? make : undefined;
  } catch {
    return undefined;
  }
}

/** A number as it may stand anywhere in an expression. The text form of a double reads back to the same bits. */
export function literal(value: number): string {
  if (!(value > -Infinity && value < Infinity)) throw new RangeError(`cannot write ${value} into code`);
  return value < 0 || (value === 0 && 1 / value < 0) ? `(${value === 0 ? "-0" : value})` : `${value}`;
}

/** Longest function, since an engine does not optimise very long ones. */
const CHUNK_CHARACTERS = 24000;

export interface StraightLu {
  /** Same as factorSparse. */
  readonly factor: (values: Float64Array) => void;
  /** Same as solveSparse. */
  readonly solve: (values: Float64Array, vector: Float64Array) => void;
}

/** Collects lines of code and the arrays that they work on, which reach the code as the fields of its last argument, `own`. */
export class CodeWriter {
  readonly own: Record<string, Float64Array> = {};
  readonly lines: string[] = [];
  private readonly names = new Map<Float64Array, string>();

  /** Name by which the code knows this array; the same one each time. */
  bind(array: Float64Array): string {
    const known = this.names.get(array);
    if (known !== undefined) return known;
    const name = `n${this.names.size}`;
    this.names.set(array, name);
    this.own[name] = array;
    return name;
  }

  line(text: string): void {
    this.lines.push(text);
  }
}

/** Lines in order as one function, cut into parts of bounded length. With `own` the names in it are taken from the last argument. */
export function straightLine<F>(
  make: CodeMaker,
  name: string,
  given: string,
  lines: readonly string[],
  own: readonly string[] = [],
): F {
  const chunks: string[] = [""];
  for (const line of lines) {
    if (chunks[chunks.length - 1].length > CHUNK_CHARACTERS) chunks.push("");
    chunks[chunks.length - 1] += `${line}\n`;
  }
  const parameters = own.length > 0 ? `${given},own` : given;
  const open = own.length > 0 ? `const {${own.join()}}=own;` : "";
  const parts = chunks.map((body, i) => `function ${name}${i}(${parameters}){${open}${body}}`).join("\n");
  const calls = chunks.map((_, i) => `${name}${i}(${parameters});`).join("");
  return make(`(()=>{${parts}\nreturn function(${parameters}){${calls}};})()`) as F;
}

export function straightLu(make: CodeMaker, plan: SparseLuPlan): StraightLu {
  return {
    factor: straightLine(make, "factor", "v", factorLines(plan)),
    solve: straightLine(make, "solve", "v,b", solveLines(plan)),
  };
}

function factorLines(plan: SparseLuPlan): string[] {
  const lines: string[] = [];
  let at = 0;
  for (let p = 0; p < plan.size; p++) {
    const d = plan.diagonal[plan.order[p]];
    let line = `{const i=1/v[${d}];v[${d}]=i;`;
    for (let l = plan.lowerStart[p]; l < plan.lowerStart[p + 1]; l++) {
      const q = plan.lowerValue[l];
      line += `{const f=v[${q}]*i;v[${q}]=f;`;
      for (let u = plan.upperStart[p]; u < plan.upperStart[p + 1]; u++) {
        line += `v[${plan.updateTarget[at]}]-=f*v[${plan.upperValue[u]}];`;
        at += 1;
      }
      line += "}";
    }
    lines.push(`${line}}`);
  }
  return lines;
}

function solveLines(plan: SparseLuPlan): string[] {
  const lines: string[] = [];
  for (let p = 0; p < plan.size; p++) {
    const l0 = plan.lowerStart[p];
    const l1 = plan.lowerStart[p + 1];
    if (l0 === l1) continue;
    let line = `{const q=b[${plan.order[p]}];`;
    for (let l = l0; l < l1; l++) line += `b[${plan.lowerRow[l]}]-=v[${plan.lowerValue[l]}]*q;`;
    lines.push(`${line}}`);
  }
  for (let p = plan.size - 1; p >= 0; p--) {
    const k = plan.order[p];
    let line = `b[${k}]=(b[${k}]`;
    for (let u = plan.upperStart[p]; u < plan.upperStart[p + 1]; u++) {
      line += `-v[${plan.upperValue[u]}]*b[${plan.upperColumn[u]}]`;
    }
    lines.push(`${line})*v[${plan.diagonal[k]}];`);
  }
  return lines;
}
