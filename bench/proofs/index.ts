import { exactmath } from "./exactmath.ts";
import type { Proof } from "./proof.ts";
import { vehicles } from "./vehicles/index.ts";

/** All proofs, in the order in which `npm run prove` runs them. */
export const proofs: readonly Proof[] = [exactmath, vehicles];
