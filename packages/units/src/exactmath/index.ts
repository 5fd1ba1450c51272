/**
 * The functions that differ in their last bits from engine to engine, built from operations that do not: + - * /,
 * floor and abs. Each states its range and its error; `exactmath.test.ts` holds them against 60-digit values, and
 * `npm run prove` against many more.
 */
export { atan2 } from "./atan2.ts";
export { cbrt } from "./cbrt.ts";
export { exp } from "./exp.ts";
export { log } from "./log.ts";
export { pow } from "./pow.ts";
export { cos, sin } from "./sincos.ts";
