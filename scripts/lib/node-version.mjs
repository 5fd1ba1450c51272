// Runs before anything is installed: Node's own modules only.

/** The oldest Node that the tools named in package.json accept. */
const OLDEST = { major: 20, minor: 19 };

/**
 * Says what is wrong with this Node, or nothing if it will do.
 * @param {string} version as in `process.versions.node`
 * @returns {string | undefined}
 */
export function nodeProblem(version) {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  const newEnough = major > OLDEST.major || (major === OLDEST.major && minor >= OLDEST.minor);
  if (newEnough) return undefined;
  return `Brakeyard needs Node ${OLDEST.major}.${OLDEST.minor} or later; this is Node ${version}. Install a newer Node and run the command again.`;
}
