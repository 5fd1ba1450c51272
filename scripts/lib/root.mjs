import path from "node:path";
import { fileURLToPath } from "node:url";

/** The folder of the checkout. */
export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..", "..");

/**
 * A path inside the checkout.
 * @param {...string} parts
 */
export function inRoot(...parts) {
  return path.join(root, ...parts);
}
