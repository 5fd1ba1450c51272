/** One thing wrong with a file: where, what, and what would be right. */
export interface Problem {
  /** JSON path from the root of the file, such as `$.axles[1].brakes.arm.unit`. Syntax errors use `line 3, column 7`. */
  readonly path: string;
  readonly message: string;
  readonly remedy: string;
}

/** A file that was accepted, or the complete list of what was wrong with it. */
export type Loaded<K extends string, T> =
  | ({ readonly ok: true; readonly notes: readonly string[] } & { readonly [P in K]: T })
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Keys and indexes from the root to a place in a file. */
export type PathParts = readonly PropertyKey[];

/** `['axles', 1, 'brakes']` as `$.axles[1].brakes`; unusual keys are quoted. */
export function jsonPath(parts: PathParts): string {
  let text = "$";
  for (const part of parts) text += typeof part === "number" ? `[${part}]` : keyText(String(part));
  return text;
}

function keyText(key: string): string {
  return /^[A-Za-z_][A-Za-z0-9_]*$/.test(key) ? `.${key}` : `[${JSON.stringify(key)}]`;
}

/** Problem at a path, in one line. */
export function problem(parts: PathParts, message: string, remedy: string): Problem {
  return { path: jsonPath(parts), message, remedy };
}

/** Problems as lines for a terminal or an error message. */
export function problemText(problems: readonly Problem[]): string {
  return problems.map((p) => `${p.path}: ${p.message}. ${p.remedy}.`).join("\n");
}

/** Thrown by functions that need a good file and were handed something else. */
export class FileError extends Error {
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super(problemText(problems));
    this.name = "FileError";
    this.problems = problems;
  }
}

/** How a value looks in a message: short, quoted where it is text. */
export function shown(value: unknown): string {
  if (value === undefined) return "nothing";
  const text = typeof value === "object" && value !== null ? kindOf(value) : JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

/** `a list`, `an object`, `a text`, `a number` ... of any JSON value. */
export function kindOf(value: unknown): string {
  if (value === null) return "null";
  if (Array.isArray(value)) return "a list";
  const kinds: Record<string, string> = {
    object: "an object",
    string: "a text",
    number: "a number",
    boolean: "true or false",
  };
  return kinds[typeof value] ?? "nothing";
}

/** `a, b or c`. */
export function oneOf(words: readonly string[]): string {
  if (words.length < 2) return words.join("");
  return `${words.slice(0, -1).join(", ")} or ${words[words.length - 1]}`;
}
