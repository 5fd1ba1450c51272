import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import ts from "typescript";
import { inRoot, root } from "../../scripts/lib/root.mjs";

/** Folders that hold nothing written by hand. */
const NOT_OURS = new Set(["node_modules", "dist", ".git", ".prove", "coverage"]);

/** A file of the repository. */
export interface SourceFile {
  /** From the top of the repository, with forward slashes. */
  readonly path: string;
  readonly text: string;
}

function walk(folder: string, wanted: RegExp): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const place = path.join(folder, entry.name);
    if (entry.isDirectory()) return NOT_OURS.has(entry.name) ? [] : walk(place, wanted);
    return wanted.test(entry.name) ? [place] : [];
  });
}

/** The files under a folder of the repository whose names match. */
export function filesUnder(folder: string, wanted: RegExp): SourceFile[] {
  return walk(inRoot(folder), wanted).map((place) => ({
    path: path.relative(root, place).split(path.sep).join("/"),
    text: readFileSync(place, "utf8"),
  }));
}

/** Whether a file is a test or belongs to tests. */
export function isTest(file: SourceFile): boolean {
  return /\.test\.tsx?$/.test(file.path) || /^(packages\/[^/]+|checks)\/test(-support)?\//.test(file.path);
}

/** Reads a file as TypeScript. */
export function parse(file: SourceFile): ts.SourceFile {
  return ts.createSourceFile(file.path, file.text, ts.ScriptTarget.ES2022, true);
}

/** Where a node stands, as `path:line`. */
export function placeOf(source: ts.SourceFile, node: ts.Node): string {
  return `${source.fileName}:${source.getLineAndCharacterOfPosition(node.getStart(source)).line + 1}`;
}
