import { exactmath } from "./exactmath.ts";
import type { Proof } from "./proof.ts";

/** All proofs, in the order in which `npm run prove` runs them. */
export const proofs: readonly Proof[] = [exactmath];
