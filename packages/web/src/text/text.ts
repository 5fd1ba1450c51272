import { type Catalogue, en } from "./en.ts";

/** The catalogue in use. */
export const text: Catalogue = en;
