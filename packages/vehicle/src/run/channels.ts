import type { EngineModel } from "@brakeyard/engine";
import { type Problem, problem } from "../text/problem.ts";

/** One column of a run's trace. */
export interface RunChannel {
  readonly id: string;
  /** Place in what Simulation.sample gives. */
  readonly index: number;
  readonly kind: "truth" | "reading";
  readonly unit: string;
}

/** Channels asked for, in the model's order, or the names that fit none. */
export function channelsOf(
  asked: "readings" | "all" | readonly string[],
  model: EngineModel,
): { channels: RunChannel[]; problems: Problem[] } {
  const all = model.channels.map(({ id, kind, unit }, index) => ({ id, index, kind, unit }));
  if (asked === "all") return { channels: all, problems: [] };
  if (asked === "readings") return { channels: all.filter((channel) => channel.kind === "reading"), problems: [] };
  const patterns = asked.map((name) => ({ name, fits: pattern(name) }));
  const problems = patterns.flatMap(({ name, fits }, i) =>
    all.some((channel) => fits.test(channel.id))
      ? []
      : [problem(["channels", i], `no channel is called "${name}"`, nearest(name, all))],
  );
  return { channels: all.filter((channel) => patterns.some(({ fits }) => fits.test(channel.id))), problems };
}

/** `pressure.*` as an expression; `*` stands for anything. */
function pattern(name: string): RegExp {
  const parts = name.split("*").map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  return new RegExp(`^${parts.join(".*")}$`);
}

/** Channels that begin alike, else the beginnings there are. */
function nearest(name: string, all: readonly { readonly id: string }[]): string {
  const [first = ""] = name.split(".");
  const alike = all.filter((channel) => channel.id.startsWith(`${first}.`)).map((channel) => channel.id);
  const firsts = [...new Set(all.map((channel) => `${channel.id.split(".")[0]}.*`))];
  return `there are ${(alike.length > 0 ? alike : firsts).slice(0, 30).join(", ")}`;
}
