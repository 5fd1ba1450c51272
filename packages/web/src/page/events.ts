import { signal } from "@preact/signals";
import type { LiveEvent } from "../live/contract.ts";
import { TICKS_PER_SECOND } from "../live/contract.ts";
import { text } from "../text/text.ts";
import type { TraceStore } from "../trace/traceStore.ts";
import { clockText } from "./TimeBar.tsx";

/** The last thing that happened, for the event line. */
export const lastEvent = signal("");

/** What an event says: by the catalogue if it has a word for it, else in the engine's own. */
export function eventText(event: LiveEvent): string {
  const words = text.events.engine[`${event.id}.${event.on ? "on" : "off"}`] ?? event.text;
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function noteEvents(events: readonly LiveEvent[], store: TraceStore): void {
  for (const event of events) store.flag(event.timeS, eventText(event));
  const last = events.at(-1);
  if (last) lastEvent.value = text.events.at(clockText(Math.floor(last.timeS * TICKS_PER_SECOND)), eventText(last));
}
