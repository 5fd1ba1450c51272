import { ensureInstalled } from "./install.mjs";
import { nodeProblem } from "./node-version.mjs";
import { PlainError } from "./say.mjs";

/** What every command needs first: a Node that will do, and the packages. */
export async function bootstrap() {
  const problem = nodeProblem(process.versions.node);
  if (problem) throw new PlainError(problem);
  await ensureInstalled();
}
