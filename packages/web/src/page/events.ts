import { signal } from "@preact/signals";
import { askedFor } from "../cab/pedal.ts";
import type { ControlInfo, LiveEvent } from "../live/contract.ts";
import { TICKS_PER_SECOND } from "../live/contract.ts";
import { written } from "../live/figures.ts";
import { text } from "../text/text.ts";
import type { TraceStore } from "../trace/traceStore.ts";
import { clockText } from "./TimeBar.tsx";

/** The last thing that happened, for the event line. */
export const lastEvent = signal("");

/** Kinds of event whose name is followed by a place. */
const PLACED = /^(lowAirSwitch)\.|\.(safetyValve)\./;

/** Short name of an event for its flag; nothing for what would only crowd the trace. */
export function flagText(event: LiveEvent): string | undefined {
  const kind = PLACED.exec(event.id);
  const key = kind ? (kind[1] ?? kind[2]) : event.id;
  return text.events.flags[`${key} ${event.on ? "on" : "off"}`];
}

function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function noteEvents(events: readonly LiveEvent[], store: TraceStore): void {
  for (const event of events) {
    const flag = flagText(event);
    if (flag) store.flag(event.timeS, flag);
  }
  const last = events.at(-1);
  if (last) {
    lastEvent.value = text.events.at(clockText(Math.floor(last.timeS * TICKS_PER_SECOND)), sentence(last.text));
  }
}

/** A foot put down or taken off gets a flag too: what is asked for, not what arrives. */
export function notePedal(pedal: ControlInfo, travel: number, tick: number, store: TraceStore): void {
  const at = tick / TICKS_PER_SECOND;
  if (travel <= pedal.minimum) store.flag(at, text.events.released);
  else if (travel >= pedal.maximum) store.flag(at, text.events.pressed(text.cab.full));
  else store.flag(at, text.events.pressed(written("pressure", askedFor(pedal, travel))));
}
