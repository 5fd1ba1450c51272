/**
 * Checks JSON text by hand before JSON.parse reads it, for what JSON.parse does not tell: the line and column of a mistake in the
 * same words in every JavaScript engine, a key given twice (JSON.parse keeps the last in silence), nesting without end, and numbers
 * beyond what a double holds.
 */

/** Deepest nesting a Brakeyard file can need, with room to spare. */
export const DEEPEST = 32;

export interface ScanFault {
  readonly line: number;
  readonly column: number;
  readonly message: string;
  readonly remedy: string;
}

/** The first fault in the text, or null when it is JSON that JSON.parse will read without loss. */
export function scanJson(text: string): ScanFault | null {
  const scanner = new Scanner(text);
  try {
    scanner.document();
    return null;
  } catch (error) {
    if (error instanceof Stop) return { ...placeOf(text, error.at), message: error.message, remedy: error.remedy };
    throw error;
  }
}

class Stop extends Error {
  readonly at: number;
  readonly remedy: string;
  constructor(at: number, message: string, remedy: string) {
    super(message);
    this.at = at;
    this.remedy = remedy;
  }
}

function placeOf(text: string, at: number): { line: number; column: number } {
  let line = 1;
  let lineStart = 0;
  for (let i = text.indexOf("\n"); i >= 0 && i < at; i = text.indexOf("\n", i + 1)) {
    line++;
    lineStart = i + 1;
  }
  return { line, column: at - lineStart + 1 };
}

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const WORD = /true|false|null/y;

class Scanner {
  private at = 0;
  private depth = 0;

  constructor(private readonly text: string) {}

  document(): void {
    this.blank();
    this.value();
    this.blank();
    if (this.at < this.text.length) this.stop("there is more text after the end of the file content", "remove it");
  }

  private value(): void {
    const c = this.text[this.at];
    if (c === "{") this.object();
    else if (c === "[") this.list();
    else if (c === '"') this.take(STRING, "a text that is not closed, or has a character that must be escaped");
    else if (c === "-" || (c !== undefined && c >= "0" && c <= "9")) this.number();
    else this.take(WORD, this.at < this.text.length ? "this is not JSON" : "the file ends too early");
  }

  private number(): void {
    const start = this.at;
    const text = this.take(NUMBER, "a number that is not written as JSON writes them");
    if (!Number.isFinite(Number(text))) {
      this.at = start;
      this.stop(`${text.slice(0, 20)} is larger than any number that can be held`, "write a number of ordinary size");
    }
  }

  private object(): void {
    this.enter();
    const keys = new Set<string>();
    while (!this.closes("}", keys.size === 0)) {
      this.key(keys);
      this.blank();
      this.expect(":");
      this.blank();
      this.value();
    }
    this.depth--;
  }

  private key(keys: Set<string>): void {
    const start = this.at;
    const key = String(JSON.parse(this.take(STRING, "a key in double quotes must stand here")));
    if (keys.has(key)) {
      this.at = start;
      this.stop(`the key "${key}" stands twice in one object`, "keep one of the two");
    }
    keys.add(key);
  }

  private list(): void {
    this.enter();
    let first = true;
    while (!this.closes("]", first)) {
      this.value();
      first = false;
    }
    this.depth--;
  }

  private enter(): void {
    if (++this.depth > DEEPEST)
      this.stop(`nested more than ${DEEPEST} deep`, "no Brakeyard file is; is this the right file?");
    this.at++;
    this.blank();
  }

  /** True at the closing mark. Otherwise steps over the comma that must separate items (none before the first). */
  private closes(mark: string, first: boolean): boolean {
    this.blank();
    if (this.text[this.at] === mark) {
      this.at++;
      return true;
    }
    if (first) return false;
    this.expect(",");
    this.blank();
    return false;
  }

  private expect(mark: string): void {
    if (this.text[this.at] !== mark) {
      const ends = this.at >= this.text.length;
      this.stop(
        ends ? "the file ends too early" : `"${mark}" is missing here`,
        `write "${mark}" or close what was opened`,
      );
    }
    this.at++;
  }

  private blank(): void {
    for (;;) {
      const c = this.text.charCodeAt(this.at);
      if (c !== 32 && c !== 10 && c !== 13 && c !== 9) return;
      this.at++;
    }
  }

  private take(pattern: RegExp, message: string): string {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text)?.[0];
    if (found === undefined) this.stop(message, "the file must be JSON: see docs/vehicle-file.md and docs/run-file.md");
    this.at += found.length;
    return found;
  }

  private stop(message: string, remedy: string): never {
    throw new Stop(this.at, message, remedy);
  }
}
