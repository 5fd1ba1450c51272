import { existsSync } from "node:fs";
import path from "node:path";
import { inRoot } from "../../scripts/lib/root.mjs";
import type { SourceFile } from "./files.ts";

/** Text without code blocks and code spans: brackets in code are no links. */
function prose(text: string): string {
  return text.replace(/^(```|~~~)[\s\S]*?^\1/gm, "").replace(/`[^`\n]*`/g, "");
}

/** Targets of the links and pictures of a page. */
export function linksIn(text: string): string[] {
  const inline = [...prose(text).matchAll(/\]\(([^()\s]+)(?:\s+"[^"]*")?\)/g)].map((match) => match[1] ?? "");
  const named = [...prose(text).matchAll(/^\[[^\]]+\]:\s*(\S+)/gm)].map((match) => match[1] ?? "");
  return [...inline, ...named];
}

/** The anchors that a page's headings make. */
export function anchorsIn(text: string): string[] {
  return [...text.matchAll(/^#{1,6}\s+(.+)$/gm)].map((match) =>
    (match[1] ?? "")
      .toLowerCase()
      .replace(/[^\p{L}\p{N}\s_-]/gu, "")
      .trim()
      .replace(/\s/g, "-"),
  );
}

/** Links of a page that lead nowhere, as `page: target`. Addresses of the outside world are not looked up. */
export function brokenLinks(page: SourceFile, readPage: (file: string) => string | undefined): string[] {
  return linksIn(page.text).filter((link) => {
    if (/^[a-z]+:/.test(link)) return false;
    const [file = "", anchor] = link.split("#");
    const target = file === "" ? page.path : path.posix.normalize(path.posix.join(path.posix.dirname(page.path), file));
    if (!existsSync(inRoot(target))) return true;
    return anchor !== undefined && !anchorsIn(readPage(target) ?? "").includes(anchor);
  });
}

/** Paths of the repository that a page names in code spans, `packages/...` and the like. */
export function pathsNamedIn(text: string): string[] {
  return [...text.matchAll(/`((?:packages|checks|tests|scripts|bench|docs|examples|\.ci)\/[\w./-]+)`/g)].map(
    (match) => match[1] ?? "",
  );
}

/** npm scripts that a page tells its reader to run. */
export function npmScriptsIn(text: string): string[] {
  const found = [...text.matchAll(/npm (?:run ([\w-]+)|(start|test))\b/g)].map((match) => match[1] ?? match[2] ?? "");
  return [...new Set(found)];
}

/** Keys of `@source [Key]` in code. */
export function sourceKeysIn(text: string): string[] {
  return [...text.matchAll(/@source\s+((?:(?!\*\/|@source)[\s\S])*)/g)].flatMap((match) =>
    [...(match[1] ?? "").matchAll(/\[([A-Z][A-Za-z0-9]+)\]/g)].map((key) => key[1] ?? ""),
  );
}

/** Keys of the table of docs/references.md. */
export function referenceKeysIn(text: string): string[] {
  return [...text.matchAll(/^\| ([A-Z][A-Za-z0-9]+) \|/gm)].map((match) => match[1] ?? "");
}
