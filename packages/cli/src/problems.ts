import { type Problem, problemText } from "@brakeyard/vehicle";

/** Problems of a file as lines, each with the file's name before its place. */
export function problemLines(file: string, problems: readonly Problem[]): string[] {
  const word = problems.length === 1 ? "1 problem" : `${problems.length} problems`;
  return [`${file} is refused (${word}):`, ...problemText(problems).split("\n")];
}
