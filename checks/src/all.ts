import { p01 } from "../published/P-01.ts";
import { p02 } from "../published/P-02.ts";
import { p08 } from "../published/P-08.ts";
import { integratorChecks } from "../scipy/integrator.ts";
import type { Check } from "./check.ts";

/** Every check, in the order in which they are run and printed. */
export const allChecks: readonly Check[] = [p01, p02, p08, ...integratorChecks];
