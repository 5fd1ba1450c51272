import { closedForms } from "../closed-forms/index.ts";
import { expertChecks } from "../expert/index.ts";
import { publishedCases } from "../published/index.ts";
import { integratorChecks } from "../scipy/integrator.ts";
import { standards } from "../standards/index.ts";
import type { Check } from "./check.ts";

/** Every check, in the order in which they are run and printed. */
export const allChecks: readonly Check[] = [
  ...publishedCases,
  ...standards,
  ...expertChecks,
  ...closedForms,
  ...integratorChecks,
];
