import { type ParseArgsConfig, parseArgs } from "node:util";
import { EXIT, Stop } from "./outcome.ts";

type Options = NonNullable<ParseArgsConfig["options"]>;

/** Options and the rest, read strictly. A fault is bad input, said in one line. */
export function readArguments<const O extends Options>(args: readonly string[], options: O) {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true, strict: true });
  } catch (error) {
    const message = error instanceof Error ? (error.message.split("\n")[0] ?? "") : String(error);
    throw new Stop([message, "`brakeyard --help` lists what there is."], EXIT.badInput);
  }
}

/** The one thing a command is about, such as a file. */
export function onlyPositional(given: readonly string[], usage: string): string {
  const [first, ...others] = given;
  if (first !== undefined && others.length === 0) return first;
  const found = first === undefined ? "nothing was given" : `${given.length} things were given`;
  throw new Stop([`${found}; write: ${usage}`], EXIT.badInput);
}
