// Runs before anything is installed and on any Node that knows modules: Node's own modules only, nothing newer than needed.

/**
 * Says what is wrong with this Node, or nothing if it will do. What will do is what the build tools accept: 20.19 and later
 * of Node 20, 22.12 and later of Node 22, and everything after.
 * @param {string} version as in `process.versions.node`
 * @returns {string | undefined}
 */
export function nodeProblem(version) {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  const newEnough = (major === 20 && minor >= 19) || (major === 22 && minor >= 12) || major > 22;
  if (newEnough) return undefined;
  return `Brakeyard needs Node 20.19 or later (of Node 22: 22.12 or later); this is Node ${version}. Install a newer Node and run the command again.`;
}
