import {
  closeSync,
  existsSync,
  fstatSync,
  fsyncSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import path from "node:path";
import { LONGEST_TEXT } from "@brakeyard/vehicle";
import { badInput, EXIT, Stop } from "./outcome.ts";

/** Text gathered before it goes to the disk, characters. */
const AT_ONCE = 65_536;
/** Bytes beyond which no text can be short enough, whatever its letters. */
const MOST_BYTES = 4 * LONGEST_TEXT;

function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  const reasons: Record<string, string> = {
    ENOENT: "there is no such file",
    EISDIR: "it is a folder",
    EACCES: "it may not be read or written",
    EPERM: "it may not be touched",
    ENOTDIR: "part of its path is not a folder",
    EROFS: "the disk cannot be written to",
    ENOSPC: "the disk is full",
  };
  return reasons[code ?? ""] ?? (error instanceof Error ? error.message : String(error));
}

/** The text of a file. Throws an Error that says why it cannot be had. */
export function readTextFile(file: string): string {
  let handle: number | undefined;
  try {
    handle = openSync(file, "r");
    const { size } = fstatSync(handle);
    if (size > MOST_BYTES) throw new Error(`it has ${size} bytes; files of more than ${MOST_BYTES} are not read`);
    return new TextDecoder("utf-8", { fatal: true }).decode(readFileSync(handle));
  } catch (error) {
    if (error instanceof TypeError) throw new Error("it is not text in UTF-8");
    throw new Error(reasonOf(error));
  } finally {
    if (handle !== undefined) closeSync(handle);
  }
}

/** The text of the file a command was given; bad input when it cannot be had. */
export function readInput(file: string): string {
  try {
    return readTextFile(file);
  } catch (error) {
    throw badInput(file, (error as Error).message, "Give the path of a JSON file");
  }
}

/**
 * A file that appears whole or not at all: it is written beside its place under another name and put there at the end. If the program stops
 * before, what was written goes away and an older file stays as it was.
 */
export class WholeFile {
  private readonly partial: string;
  private handle: number | undefined;
  private gathered = "";
  private readonly cleanUp = (): void => this.abandon();

  /** @throws Stop when it cannot be written there */
  constructor(private readonly file: string) {
    this.partial = `${file}.${process.pid}.partial`;
    try {
      if (existsSync(file) && statSync(file).isDirectory()) throw new Error("it is a folder");
      this.handle = openSync(this.partial, "wx");
    } catch (error) {
      throw badInput(
        `--out ${file}`,
        reasonOf(error),
        "Give the path of a file in a folder that exists and can be written to",
      );
    }
    process.on("exit", this.cleanUp);
    process.once("SIGINT", stopped);
    process.once("SIGTERM", stopped);
  }

  /** @throws Stop when the disk does not take it */
  write(text: string): void {
    this.gathered += text;
    if (this.gathered.length >= AT_ONCE) this.putDown();
  }

  private putDown(): void {
    const { handle } = this;
    if (handle === undefined) throw new Error(`${this.file} is closed`);
    this.trying(() => writeFileSync(handle, this.gathered));
    this.gathered = "";
  }

  /** Puts the file in its place. @throws Stop when it cannot be put there */
  finish(): void {
    this.putDown();
    const { handle } = this;
    if (handle === undefined) return;
    // A power cut must not leave the name in place with nothing behind it.
    this.trying(() => fsyncSync(handle));
    closeSync(handle);
    this.handle = undefined;
    this.release();
    try {
      this.trying(() => renameSync(this.partial, this.file));
    } catch (stop) {
      rmSync(this.partial, { force: true });
      throw stop;
    }
  }

  private trying(work: () => void): void {
    try {
      work();
    } catch (error) {
      throw new Stop([`${this.file} could not be written: ${reasonOf(error)}. It is as it was before.`], EXIT.failed);
    }
  }

  /** Leaves nothing behind. */
  abandon(): void {
    if (this.handle === undefined) return;
    closeSync(this.handle);
    this.handle = undefined;
    rmSync(this.partial, { force: true });
    this.release();
  }

  private release(): void {
    process.off("exit", this.cleanUp);
    process.off("SIGINT", stopped);
    process.off("SIGTERM", stopped);
  }
}

/** By signal: leave through the exit handlers, so that nothing half-done stays. */
function stopped(): void {
  process.exit(130);
}

/** Whether two paths are the same file, whichever way they are written. */
export function sameFile(a: string, b: string): boolean {
  if (path.resolve(a) === path.resolve(b)) return true;
  const [one, other] = [a, b].map((file) => statSync(file, { throwIfNoEntry: false }));
  return one !== undefined && other !== undefined && one.ino === other.ino && one.dev === other.dev;
}
