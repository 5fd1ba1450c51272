/** One line on stdout. */
export function say(line: string): void {
  process.stdout.write(`${line}\n`);
}

/** One line on stderr. */
export function complain(line: string): void {
  process.stderr.write(`${line}\n`);
}

/** Time between two lines of progress, ms: on a terminal one line is rewritten, elsewhere lines would pile up. */
const EVERY_MS = { terminal: 200, elsewhere: 5000 };

/** Progress of long work, on stderr. Quick work never shows any. */
export class Progress {
  private readonly started = performance.now();
  private last = this.started;
  private shown = false;

  constructor(private readonly what: string) {}

  /** Tells how far it is, 0 to 1. */
  at(share: number, detail = ""): void {
    const now = performance.now();
    const terminal = process.stderr.isTTY === true;
    if (now - this.last < (terminal ? EVERY_MS.terminal : EVERY_MS.elsewhere)) return;
    this.last = now;
    this.shown = true;
    const line = `${this.what}: ${Math.floor(share * 100)} %${detail === "" ? "" : ` ${detail}`}`;
    process.stderr.write(terminal ? `\r${line.padEnd(70)}` : `${line}\n`);
  }

  done(): void {
    if (this.shown && process.stderr.isTTY === true) process.stderr.write(`\r${"".padEnd(72)}\r`);
  }
}
