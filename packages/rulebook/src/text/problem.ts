/** One thing wrong with a file: where, what, and what would be right. */
export interface Problem {
  /** JSON path from the root of the file, such as `$.limits[1].value.unit`. Mistakes of syntax have `line 3, column 7`. */
  readonly path: string;
  readonly message: string;
  readonly remedy: string;
}

/** A file that was accepted, or the complete list of what was wrong with it. */
export type Loaded<K extends string, T> =
  | ({ readonly ok: true } & { readonly [P in K]: T })
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Keys and indexes from the root to a place in a file. */
export type PathParts = readonly PropertyKey[];

/** `['limits', 1, 'value']` as `$.limits[1].value`; unusual keys are quoted. */
function jsonPath(parts: PathParts): string {
  return parts.reduce<string>((text, part) => text + (typeof part === "number" ? `[${part}]` : keyText(part)), "$");
}

function keyText(key: PropertyKey): string {
  const text = String(key);
  return /^[A-Za-z_][A-Za-z0-9_]*$/.test(text) ? `.${text}` : `[${JSON.stringify(text)}]`;
}

/** A problem at a path. */
export function problem(parts: PathParts, message: string, remedy: string): Problem {
  return { path: jsonPath(parts), message, remedy };
}

/** Problems as lines for a terminal or an error message. */
export function problemText(problems: readonly Problem[]): string {
  return problems.map((one) => `${one.path}: ${one.message}. ${one.remedy}.`).join("\n");
}

/** How a value looks in a message: short, quoted where it is text. */
export function shown(value: unknown): string {
  if (value === undefined) return "nothing";
  if (Array.isArray(value)) return "a list";
  if (typeof value === "object" && value !== null) return "an object";
  const text = JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

/** `a, b or c`. */
export function oneOf(words: readonly string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
}

/** Message for a value that is missing or of the wrong sort. */
export function stands(value: unknown): string {
  return value === undefined ? "missing" : `${shown(value)} stands here`;
}
