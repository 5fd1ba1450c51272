import { type Problem, shown } from "./problem.ts";
import { scanJson } from "./scanJson.ts";

/** Longest text that is read at all, in UTF-16 units. The largest demo vehicle is below 40,000. */
export const LONGEST_TEXT = 2_000_000;

/** What a file must say of itself in its first two keys. */
export interface FormatHead {
  readonly format: string;
  readonly version: number;
}

/** JSON object, or why not. Nothing is repaired. */
export type ReadText =
  | { readonly ok: true; readonly raw: Record<string, unknown> }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Reads text as one JSON object. */
export function readText(text: string): ReadText {
  if (typeof text !== "string") return refuse("$", "there is no text to read", "give the content of a file");
  if (text.length > LONGEST_TEXT) return refuse("$", tooLong(text.length), "is this the right file?");
  const bare = text.startsWith("\uFEFF") ? text.slice(1) : text;
  const fault = scanJson(bare);
  if (fault) return refuse(`line ${fault.line}, column ${fault.column}`, fault.message, fault.remedy);
  const raw: unknown = JSON.parse(bare);
  if (typeof raw === "object" && raw !== null && !Array.isArray(raw))
    return { ok: true, raw: raw as Record<string, unknown> };
  return refuse("$", `the file holds ${shown(raw)}`, "the file must be one JSON object, {...}");
}

function tooLong(length: number): string {
  return `the text is ${length} characters long; files of more than ${LONGEST_TEXT} are not read`;
}

/** Holds `format` and `version` against what is expected; the rest of the file is looked at only when these are right. */
export function checkHead(raw: Record<string, unknown>, format: string, newest: number): readonly Problem[] {
  if (raw.format !== format) {
    const remedy = `the file must begin with "format": "${format}"`;
    return [{ path: "$.format", message: raw.format === undefined ? "missing" : `is ${shown(raw.format)}`, remedy }];
  }
  const version = raw.version;
  if (typeof version !== "number" || !(version >= 1) || Math.floor(version) !== version) {
    const message = version === undefined ? "missing" : `is ${shown(version)}`;
    return [{ path: "$.version", message, remedy: `write the format version as a whole number, 1 to ${newest}` }];
  }
  if (version <= newest) return [];
  const message = `this file has format version ${version}; this Brakeyard reads up to ${newest}`;
  return [{ path: "$.version", message, remedy: "open it with a newer Brakeyard" }];
}

function refuse(path: string, message: string, remedy: string): ReadText {
  return { ok: false, problems: [{ path, message, remedy }] };
}
