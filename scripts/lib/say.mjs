/**
 * One line to the person at the terminal.
 * @param {string} line
 */
export function say(line) {
  process.stdout.write(`${line}\n`);
}

/**
 * A problem that ends the command in one clear line, without a stack trace.
 */
export class PlainError extends Error {}

/**
 * Runs a command's main function; a PlainError is printed as its one line, anything else with its stack.
 * @param {() => Promise<void>} main
 */
export async function runMain(main) {
  try {
    await main();
  } catch (error) {
    const text = error instanceof PlainError ? error.message : error instanceof Error ? error.stack : String(error);
    process.stderr.write(`${text}\n`);
    process.exitCode = 1;
  }
}
