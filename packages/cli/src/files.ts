import {
  closeSync,
  existsSync,
  fstatSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from "node:fs";
import path from "node:path";
import { LONGEST_TEXT } from "@brakeyard/vehicle";
import { badInput } from "./outcome.ts";

/** Bytes beyond which no text can be short enough, whatever its letters. */
const MOST_BYTES = 4 * LONGEST_TEXT;

function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code;
  const reasons: Record<string, string> = {
    ENOENT: "there is no such file",
    EISDIR: "it is a folder",
    EACCES: "it may not be read",
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

  write(text: string): void {
    if (this.handle === undefined) throw new Error(`${this.file} is closed`);
    writeSync(this.handle, text);
  }

  /** Puts the file in its place. */
  finish(): void {
    if (this.handle !== undefined) closeSync(this.handle);
    this.handle = undefined;
    renameSync(this.partial, this.file);
    this.release();
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

/** Whether two paths are the same file. */
export function sameFile(a: string, b: string): boolean {
  return path.resolve(a) === path.resolve(b);
}
