import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { gzipSync } from "node:zlib";

export interface PageSize {
  readonly files: readonly { readonly name: string; readonly bytes: number; readonly gzipBytes: number }[];
  readonly gzipBytes: number;
}

/**
 * Every script that the built page fetches before the yard is alive: those that index.html names, and those that these name in turn, the
 * engine's worker among them. Null when the page is not built.
 */
export function firstLoad(root: string): PageSize | null {
  const dist = path.join(root, "packages", "web", "dist");
  const page = path.join(dist, "index.html");
  if (!existsSync(page)) return null;
  const assets = path.join(dist, "assets");
  const scripts = readdirSync(assets).filter((name) => name.endsWith(".js"));
  const wanted = namedIn(readFileSync(page, "utf8"), scripts);
  for (const name of wanted) {
    for (const more of namedIn(readFileSync(path.join(assets, name), "utf8"), scripts)) wanted.add(more);
  }
  const files = [...wanted].map((name) => {
    const content = readFileSync(path.join(assets, name));
    return { name, bytes: content.length, gzipBytes: gzipSync(content, { level: 9 }).length };
  });
  return { files, gzipBytes: files.reduce((sum, file) => sum + file.gzipBytes, 0) };
}

function namedIn(text: string, names: readonly string[]): Set<string> {
  return new Set(names.filter((name) => text.includes(name)));
}
