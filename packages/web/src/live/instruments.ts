import { type ReadonlySignal, type Signal, signal } from "@preact/signals";

/** Draws something from one frame. `value(index)` style access keeps it free of allocation. */
export type Painter = (values: Float64Array, tick: number) => void;

interface Watched {
  index: number;
  step: number;
  shown: Signal<number>;
}

/**
 * Hands the channels of each frame to what shows them. Two ways: a painter touches the document itself and decides what
 * has changed; a watched channel is a signal that moves only when the value has moved by a whole step.
 */
export class Instruments {
  private indexOf = new Map<string, number>();
  private painters = new Set<Painter>();
  private watched: Watched[] = [];
  private values: Float64Array | null = null;
  private tick = 0;

  /** A vehicle has been opened: channel numbers mean something else now, and old painters are gone. */
  open(channels: readonly string[]): void {
    this.indexOf = new Map(channels.map((id, i) => [id, i]));
    this.watched = [];
    this.values = null;
  }

  has(channel: string | undefined): channel is string {
    return channel !== undefined && this.indexOf.has(channel);
  }

  /** Number of a channel, -1 if this vehicle has none of that name. */
  index(channel: string | undefined): number {
    return channel === undefined ? -1 : (this.indexOf.get(channel) ?? -1);
  }

  /** Latest value of a channel, NaN before the first frame. */
  last(channel: string): number {
    return this.values?.[this.index(channel)] ?? Number.NaN;
  }

  /** The channel as a count of whole steps. */
  watch(channel: string | undefined, step: number): ReadonlySignal<number> {
    const index = this.index(channel);
    const known = this.watched.find((w) => w.index === index && w.step === step);
    if (known) return known.shown;
    const entry = { index, step, shown: signal(Number.NaN) };
    if (index >= 0) {
      this.watched.push(entry);
      if (this.values) entry.shown.value = Math.round(this.values[index]! / step);
    }
    return entry.shown;
  }

  /** Calls the painter with every frame until the returned function is called. */
  paint(painter: Painter): () => void {
    this.painters.add(painter);
    if (this.values) painter(this.values, this.tick);
    return () => this.painters.delete(painter);
  }

  draw(values: Float64Array, tick: number): void {
    this.values = values;
    this.tick = tick;
    for (const entry of this.watched) {
      const shown = Math.round(values[entry.index]! / entry.step);
      if (shown !== entry.shown.peek()) entry.shown.value = shown;
    }
    for (const painter of this.painters) painter(values, tick);
  }
}
