/** The picture's own name for the schematic that the vehicle package makes. */
export type { Schematic, SchematicFact, SchematicLine, SchematicPart } from "@brakeyard/vehicle";
