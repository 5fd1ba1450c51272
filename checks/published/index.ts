import type { Check } from "../src/check.ts";
import { p01 } from "./P-01.ts";
import { p02 } from "./P-02.ts";
import { p03 } from "./P-03.ts";
import { p04 } from "./P-04.ts";
import { p05 } from "./P-05.ts";
import { p06 } from "./P-06.ts";
import { p07 } from "./P-07.ts";
import { p08 } from "./P-08.ts";
import { p09 } from "./P-09.ts";
import { p10 } from "./P-10.ts";
import { p11 } from "./P-11.ts";
import { p12 } from "./P-12.ts";
import { p15 } from "./P-15.ts";
import { p27 } from "./P-27.ts";

/** Published cases about air. P-13, P-14 and P-16 to P-26 and P-28 are about force, heat and motion, which are not modelled yet. */
export const publishedCases: readonly Check[] = [p01, p02, p03, p04, p05, p06, p07, p08, p09, p10, p11, p12, p15, p27];
