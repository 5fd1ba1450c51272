import { computed } from "@preact/signals";
import { TICKS_PER_SECOND } from "../live/contract.ts";
import { useLive } from "../live/live.ts";
import { text } from "../text/text.ts";

/** Model time as hours, minutes, seconds and hundredths, for instance 0:02:14.30. */
export function clockText(tick: number): string {
  const s = Math.floor(tick / TICKS_PER_SECOND);
  const hundredths = tick - s * TICKS_PER_SECOND;
  const two = (n: number) => String(n).padStart(2, "0");
  const minutes = Math.floor(s / 60);
  const clock =
    minutes < 60 ? `${minutes}:${two(s % 60)}` : `${Math.floor(minutes / 60)}:${two(minutes % 60)}:${two(s % 60)}`;
  return `${clock}.${two(hundredths)}`;
}

/** Model time. */
export function Clock() {
  const live = useLive();
  const clock = computed(() => clockText(live.tick.value));
  return (
    <p class="clock figure" role="timer" aria-label={text.time.clock}>
      {clock}
    </p>
  );
}

/** Freeze, one tick, slow, live, fast, reset. */
export function TimeBar() {
  const live = useLive();
  const pace = live.pace.value;
  const paces: [number, string][] = [
    [0.1, text.time.slow],
    [1, text.time.live],
    [10, text.time.ten],
    [60, text.time.sixty],
  ];
  return (
    <section class="time" aria-label={text.time.label}>
      <button type="button" class="key" aria-pressed={pace === 0} onClick={() => live.setPace(pace === 0 ? 1 : 0)}>
        {pace === 0 ? text.time.frozen : text.time.freeze}
      </button>
      <button type="button" class="key" onClick={() => live.oneTick()}>
        {text.time.tick}
      </button>
      {paces.map(([p, name]) => (
        <button key={p} type="button" class="key" aria-pressed={pace === p} onClick={() => live.setPace(p)}>
          {name}
        </button>
      ))}
      <button type="button" class="key" onClick={() => live.reset()}>
        {text.time.reset}
      </button>
    </section>
  );
}
