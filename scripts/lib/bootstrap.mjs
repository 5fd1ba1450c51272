import { ensureInstalled } from "./install.mjs";
import { nodeProblem } from "./node-version.mjs";
import { PlainError } from "./say.mjs";

/** Stops in one line on a Node that will not do. */
export function requireNode() {
  const problem = nodeProblem(process.versions.node);
  if (problem) throw new PlainError(problem);
}

/** What every command needs first: a Node that will do, and the packages. */
export async function bootstrap() {
  requireNode();
  await ensureInstalled();
}
