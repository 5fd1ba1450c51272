import * as z from "zod/mini";
import { applicationPath, loadSensing, quickReleaseValve, relayValve } from "../parts/application.ts";
import { axle as axlePart } from "../parts/chassis.ts";
import { wheelEnd } from "../parts/wheelEnd.ts";
import { choice, identifier, partDifferences, partSchema, words, yes } from "./build.ts";

/** How pressure comes to the chambers of an axle. */
const application = partSchema(applicationPath, {
  circuit: z.optional(choice("primary", "secondary")),
  fedFrom: z.optional(identifier()),
  shares: z.optional(identifier()),
  relay: z.optional(partSchema(relayValve, {})),
  quickRelease: z.optional(partSchema(quickReleaseValve, {})),
  loadSensing: z.optional(partSchema(loadSensing, {})),
});

const brakes = partSchema(wheelEnd, {
  left: z.optional(partDifferences(wheelEnd)),
  right: z.optional(partDifferences(wheelEnd)),
  application: z.optional(application),
});

export const axle = partSchema(axlePart, {
  id: identifier(),
  title: z.optional(words(60)),
  steering: z.optional(yes()),
  driven: z.optional(yes()),
  unbraked: z.optional(yes()),
  brakes: z.optional(brakes),
});
