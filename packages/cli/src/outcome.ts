/** How the program ends. */
export const EXIT = {
  ok: 0,
  /** A check did not hold, or a run could not go on. */
  failed: 1,
  /** What was asked for, or a file, is not right. */
  badInput: 2,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Ends a command with lines for the person and an exit code, without a stack trace. */
export class Stop extends Error {
  constructor(
    readonly lines: readonly string[],
    readonly code: ExitCode,
  ) {
    super(lines.join("\n"));
    this.name = "Stop";
  }
}

/** Bad input: where, what, and what would be right. */
export function badInput(place: string, message: string, remedy: string): Stop {
  return new Stop([`${place}: ${message}. ${remedy}.`], EXIT.badInput);
}
