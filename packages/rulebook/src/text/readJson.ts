import type { Problem } from "./problem.ts";

/** Longest text that is read at all, in UTF-16 units. The largest published rulebook is below 150,000. */
export const LONGEST_TEXT = 2_000_000;

/** Deepest nesting a rulebook can need, with room to spare. */
const DEEPEST = 32;

const SPACE = /[ \t\r\n]*/y;
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORD = /true|false|null/y;

class Stop extends Error {
  constructor(
    readonly at: number,
    message: string,
    readonly remedy: string,
  ) {
    super(message);
  }
}

/**
 * Reads JSON text with the line and column of a mistake, in the same words in every JavaScript engine, and refuses what
 * JSON.parse would let pass: a key given twice, nesting without end, a number too large to be held.
 *
 * @param text the file's content
 * @returns what the text says, or the first mistake in it
 */
export function readJson(text: string): { readonly raw: unknown } | { readonly problem: Problem } {
  if (text.length > LONGEST_TEXT) {
    const message = `the text is ${text.length} characters long; files of more than ${LONGEST_TEXT} are not read`;
    return { problem: { path: "$", message, remedy: "is this the right file?" } };
  }
  const bare = text.startsWith("\uFEFF") ? text.slice(1) : text;
  try {
    return { raw: new Reader(bare).document() };
  } catch (error) {
    if (!(error instanceof Stop)) throw error;
    const before = bare.slice(0, error.at).split("\n");
    const path = `line ${before.length}, column ${(before.at(-1)?.length ?? 0) + 1}`;
    return { problem: { path, message: error.message, remedy: error.remedy } };
  }
}

class Reader {
  private at = 0;

  constructor(private readonly text: string) {}

  document(): unknown {
    const value = this.value(0);
    if (this.at < this.text.length) this.stop("there is more text after the end of the file content", "remove it");
    return value;
  }

  private value(depth: number): unknown {
    if (depth > DEEPEST) this.stop(`nested more than ${DEEPEST} deep`, "no rulebook is; is this the right file?");
    this.match(SPACE);
    const first = this.text[this.at];
    const value = first === "{" ? this.object(depth) : first === "[" ? this.list(depth) : this.plain();
    this.match(SPACE);
    return value;
  }

  private plain(): unknown {
    const start = this.at;
    const found = this.match(STRING) ?? this.match(NUMBER) ?? this.match(WORD);
    if (found === undefined) this.stop(this.ends() ? "the file ends too early" : "this is not JSON", REMEDY);
    const value: unknown = JSON.parse(found);
    if (typeof value !== "number" || Number.isFinite(value)) return value;
    this.at = start;
    return this.stop("this number is larger than any that can be held", "write a number of ordinary size");
  }

  private object(depth: number): Record<string, unknown> {
    const found = new Map<string, unknown>();
    this.at += 1;
    while (!this.closes("}", found.size === 0)) {
      const key = this.key(found);
      this.expect(":");
      found.set(key, this.value(depth + 1));
    }
    return Object.fromEntries(found);
  }

  private key(found: ReadonlyMap<string, unknown>): string {
    const start = this.at;
    const text = this.match(STRING);
    if (text === undefined) this.stop("a key in double quotes must stand here", REMEDY);
    const key = String(JSON.parse(text));
    if (found.has(key)) {
      this.at = start;
      this.stop(`the key "${key}" stands twice in one object`, "keep one of the two");
    }
    this.match(SPACE);
    return key;
  }

  private list(depth: number): unknown[] {
    const found: unknown[] = [];
    this.at += 1;
    while (!this.closes("]", found.length === 0)) found.push(this.value(depth + 1));
    return found;
  }

  /** True at the closing mark. Otherwise steps over the comma that must separate items; there is none before the first. */
  private closes(mark: string, first: boolean): boolean {
    this.match(SPACE);
    if (this.text[this.at] === mark) {
      this.at += 1;
      return true;
    }
    if (!first) this.expect(",");
    this.match(SPACE);
    return false;
  }

  private expect(mark: string): void {
    if (this.text[this.at] !== mark) {
      const message = this.ends() ? "the file ends too early" : `"${mark}" is missing here`;
      this.stop(message, `write "${mark}" or close what was opened`);
    }
    this.at += 1;
  }

  private ends(): boolean {
    return this.at >= this.text.length;
  }

  private match(pattern: RegExp): string | undefined {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text)?.[0];
    if (found !== undefined) this.at += found.length;
    return found;
  }

  private stop(message: string, remedy: string): never {
    throw new Stop(this.at, message, remedy);
  }
}

const REMEDY = "the file must be JSON: see docs/rulebook-file.md";
