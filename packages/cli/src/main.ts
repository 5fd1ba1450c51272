import own from "../package.json" with { type: "json" };
import { benchCommand } from "./bench.ts";
import { checksCommand } from "./checks.ts";
import { complain, say } from "./console.ts";
import { HELP, HELP_ON } from "./help.ts";
import { EXIT, type ExitCode, Stop } from "./outcome.ts";
import { runCommand } from "./run.ts";
import { vehicleCommand } from "./vehicle.ts";

type Command = (args: readonly string[]) => ExitCode | Promise<ExitCode>;

const COMMANDS: Readonly<Record<string, Command>> = {
  run: runCommand,
  vehicle: vehicleCommand,
  checks: checksCommand,
  bench: benchCommand,
};

/** Runs the program; never throws. */
export async function main(args: readonly string[]): Promise<ExitCode> {
  try {
    return await dispatch(args);
  } catch (error) {
    if (error instanceof Stop) {
      for (const line of error.lines) complain(line);
      return error.code;
    }
    complain(error instanceof Error ? (error.stack ?? error.message) : String(error));
    return EXIT.failed;
  }
}

function dispatch(args: readonly string[]): ExitCode | Promise<ExitCode> {
  const [name, ...rest] = args;
  if (name === undefined) return refused("what shall be done?");
  if (name === "--version" || name === "-v") return shown(own.version);
  if (name === "help") return shown(helpOn(rest[0]));
  if (asksForHelp(args)) return shown(helpOn(name));
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  return command ? command(rest) : refused(`"${name}" is no command`);
}

/** After a bare `--` everything is a name. */
function asksForHelp(args: readonly string[]): boolean {
  const end = args.indexOf("--");
  return (end < 0 ? args : args.slice(0, end)).some((arg) => arg === "--help" || arg === "-h");
}

function helpOn(name: string | undefined): string {
  return (name !== undefined && Object.hasOwn(HELP_ON, name) ? HELP_ON[name] : undefined) ?? HELP;
}

function shown(text: string): ExitCode {
  say(text);
  return EXIT.ok;
}

function refused(why: string): ExitCode {
  complain(`${why}\n\n${HELP}`);
  return EXIT.badInput;
}
