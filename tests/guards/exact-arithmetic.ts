import ts from "typescript";
import { parse, placeOf, type SourceFile } from "./files.ts";

/** Exact in every engine, or a constant that the language fixes. */
const EXACT_MATH = new Set(["abs", "min", "max", "floor", "trunc", "imul", "sqrt", "PI"]);

/** Names of the surroundings: clocks, chance, languages, garbage collection. */
const SURROUNDINGS = new Set([
  "Date",
  "Intl",
  "performance",
  "crypto",
  "process",
  "globalThis",
  "WeakRef",
  "FinalizationRegistry",
  "Temporal",
]);

/** Methods that follow the user's language, or that the oldest engine tested lacks. */
const METHODS = new Set([
  "localeCompare",
  "findLast",
  "findLastIndex",
  "toReversed",
  "toSorted",
  "toSpliced",
  "groupBy",
  "fromAsync",
  "isWellFormed",
  "toWellFormed",
]);

/** Makers of text with a chosen number of digits: fine in a message, never on the way back into a number. */
const DIGIT_MAKERS = new Set(["toFixed", "toPrecision", "toExponential"]);

const POWER_OPERATORS = new Set([ts.SyntaxKind.AsteriskAsteriskToken, ts.SyntaxKind.AsteriskAsteriskEqualsToken]);

function isDigitMaker(node: ts.Node | undefined): boolean {
  return (
    node !== undefined &&
    ts.isCallExpression(node) &&
    ts.isPropertyAccessExpression(node.expression) &&
    DIGIT_MAKERS.has(node.expression.name.text)
  );
}

/** `Number(x.toFixed(2))`, `parseFloat(...)` and `+x.toFixed(2)` round by way of text. */
function roundsByText(node: ts.Node): boolean {
  if (ts.isPrefixUnaryExpression(node)) return isDigitMaker(node.operand);
  if (!ts.isCallExpression(node)) return false;
  return (
    ["Number", "parseFloat", "Number.parseFloat"].includes(node.expression.getText()) && isDigitMaker(node.arguments[0])
  );
}

/** Whether an identifier stands for the thing itself and is not merely the name of a property or a key. */
function isReference(node: ts.Identifier): boolean {
  const parent = node.parent;
  if (ts.isPropertyAccessExpression(parent)) return parent.expression === node;
  if (ts.isPropertyAssignment(parent) || ts.isPropertySignature(parent)) return parent.name !== node;
  return !(ts.isMethodDeclaration(parent) || ts.isMethodSignature(parent) || ts.isPropertyDeclaration(parent));
}

function faultOfMath(node: ts.Identifier): string | undefined {
  const parent = node.parent;
  if (!ts.isPropertyAccessExpression(parent)) return "Math may only be used as Math.name";
  const name = parent.name.text;
  return EXACT_MATH.has(name) ? undefined : `Math.${name} is not exact in every engine; use @brakeyard/units`;
}

function faultOf(node: ts.Node): string | undefined {
  if (ts.isBinaryExpression(node) && POWER_OPERATORS.has(node.operatorToken.kind))
    return "** is not exact; use pow of @brakeyard/units";
  if (roundsByText(node)) return "a number must not be rounded by way of text";
  if (ts.isPropertyAccessExpression(node)) {
    const name = node.name.text;
    if (METHODS.has(name) || name.startsWith("toLocale")) return `${name} differs between engines or is missing in one`;
  }
  if (!ts.isIdentifier(node) || !isReference(node)) return undefined;
  if (node.text === "Math") return faultOfMath(node);
  return SURROUNDINGS.has(node.text) ? `${node.text} belongs to the surroundings, which differ` : undefined;
}

/** Everything in a file that would let two engines come to different bits, as `path:line reason`. */
export function inexactIn(file: SourceFile): string[] {
  const source = parse(file);
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const fault = faultOf(node);
    if (fault) found.push(`${placeOf(source, node)} ${fault}`);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}
