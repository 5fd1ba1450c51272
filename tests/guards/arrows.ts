import path from "node:path";
import ts from "typescript";
import { isTest, parse, placeOf, type SourceFile } from "./files.ts";

/** What one package may import besides its own files. */
export interface Allowed {
  readonly packages: readonly string[];
  /** Third-party packages; "*" stands for any, Node's own modules included. */
  readonly libraries: readonly string[];
}

/** The arrows of ARCHITECTURE.md. */
export const arrows: Readonly<Record<string, Allowed>> = {
  "packages/units": { packages: [], libraries: [] },
  "packages/engine": { packages: ["units"], libraries: [] },
  "packages/vehicle": { packages: ["units", "engine"], libraries: ["zod"] },
  "packages/rulebook": { packages: ["units"], libraries: ["zod"] },
  "packages/web": {
    packages: ["units", "engine", "vehicle", "rulebook"],
    libraries: ["preact", "@preact/signals", "uplot", "@fontsource-variable", "vite"],
  },
  "packages/server": { packages: ["units", "engine", "vehicle", "rulebook"], libraries: ["*"] },
  "packages/cli": { packages: ["units", "engine", "vehicle", "rulebook", "server", "checks"], libraries: ["*"] },
  checks: { packages: ["units", "engine", "vehicle", "rulebook"], libraries: ["*"] },
};

/** What tests may use besides what their package may. */
const TEST_LIBRARIES = ["vitest", "fast-check", "node"];

/** The package, among those with arrows, that a file belongs to. */
function packageOf(file: SourceFile): string | undefined {
  return Object.keys(arrows).find((folder) => file.path.startsWith(`${folder}/`));
}

/** The text by which a node imports something: import, export from, import(), import type, require. */
function specifierOf(node: ts.Node): string | undefined {
  if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) return textOf(node.moduleSpecifier);
  if (ts.isImportTypeNode(node)) return ts.isLiteralTypeNode(node.argument) ? textOf(node.argument.literal) : undefined;
  if (ts.isExternalModuleReference(node)) return textOf(node.expression);
  if (!ts.isCallExpression(node)) return undefined;
  const isImport = node.expression.kind === ts.SyntaxKind.ImportKeyword || node.expression.getText() === "require";
  return isImport ? textOf(node.arguments[0]) : undefined;
}

function textOf(node: ts.Node | undefined): string | undefined {
  return node && ts.isStringLiteralLike(node) ? node.text : undefined;
}

/** The name by which a library is allowed: its scope and name without what follows, `node` for Node's own modules. */
function libraryOf(specifier: string): string {
  if (specifier.startsWith("node:")) return "node";
  const [first = "", second] = specifier.split("/");
  return first.startsWith("@") && first !== "@fontsource-variable" ? `${first}/${second}` : first;
}

function faultOfRelative(file: SourceFile, home: string, specifier: string): string | undefined {
  const target = path.posix.join(path.posix.dirname(file.path), specifier);
  return target.startsWith(`${home}/`) ? undefined : `"${specifier}" leaves the package; import it by its name`;
}

function faultOfOwn(file: SourceFile, home: string, specifier: string): string | undefined {
  const [, name = "", ...rest] = specifier.split("/");
  // The one entry besides the main one: makers of test data, for tests.
  const isEntry = rest.length === 0 || (rest.join("/") === "test-support" && isTest(file));
  if (!isEntry) return `"${specifier}" reaches past the package's public entry`;
  const allowed = arrows[home]?.packages.includes(name) ?? false;
  return allowed ? undefined : `"${specifier}" is against the arrows: ${home} may not import it`;
}

function faultOf(file: SourceFile, home: string, specifier: string): string | undefined {
  if (specifier.startsWith(".")) return faultOfRelative(file, home, specifier);
  if (specifier.startsWith("@brakeyard/")) return faultOfOwn(file, home, specifier);
  const allowed = arrows[home]?.libraries ?? [];
  const library = libraryOf(specifier);
  const fine = allowed.includes("*") || allowed.includes(library) || (isTest(file) && TEST_LIBRARIES.includes(library));
  return fine ? undefined : `"${specifier}" is no library that ${home} may use`;
}

/** Every import of a file that goes against the arrows, types included, as `path:line reason`. */
export function againstArrows(file: SourceFile): string[] {
  const home = packageOf(file);
  if (!home) return [`${file.path} belongs to no package that has arrows`];
  const source = parse(file);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const specifier = specifierOf(node);
    const fault = specifier === undefined ? undefined : faultOf(file, home, specifier);
    if (fault) found.push(`${placeOf(source, node)} ${fault}`);
    ts.forEachChild(node, visit);
  };
  visit(source);
  for (const reference of [...source.typeReferenceDirectives, ...source.referencedFiles]) {
    found.push(`${file.path} a reference to "${reference.fileName}" brings in types against the arrows`);
  }
  return found;
}
