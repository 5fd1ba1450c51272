/** Width from which the name of a tank stands inside it. */
export const NAMED_FROM = 110;
