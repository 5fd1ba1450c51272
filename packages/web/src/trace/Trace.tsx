import "uplot/dist/uPlot.min.css";
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { figure } from "../live/figures.ts";
import { useLive, usePainter } from "../live/live.ts";
import { settings } from "../page/settings.ts";
import { text } from "../text/text.ts";
import { Plot } from "./plot.ts";
import type { TraceStore } from "./traceStore.ts";

/** Frames between two drawings of the plot: ten drawings a second are enough for the eye and leave time for the rest. */
const FRAMES_PER_DRAWING = 6;
const POINTS = 420;
const SPANS = [30, 120, 600, 3600] as const;
const span = signal<(typeof SPANS)[number]>(30);

/** The readings against time, with a flag for each event. */
export function Trace({ store }: { store: TraceStore }) {
  const place = useRef<HTMLDivElement>(null);
  const plot = useRef<Plot | null>(null);
  const live = useLive();
  const unit = settings.unit.value;
  const theme = settings.theme.value;
  useEffect(() => {
    const box = place.current!;
    const fresh = new Plot(box, unit, box.clientWidth, box.clientHeight);
    plot.current = fresh;
    const watch = new ResizeObserver(() => fresh.resize(box.clientWidth, box.clientHeight));
    watch.observe(box);
    return () => {
      watch.disconnect();
      fresh.destroy();
      plot.current = null;
    };
  }, [unit, theme]);
  usePainter(() => {
    let count = 0;
    let drawn = "";
    return () => {
      count += 1;
      if (count % FRAMES_PER_DRAWING !== 0 || !plot.current) return;
      const state = `${store.version} ${span.peek()} ${settings.truth.peek()} ${unit} ${theme}`;
      if (state === drawn) return;
      drawn = state;
      const to = store.lastTime();
      const from = to - span.peek();
      plot.current.draw(store.window(from, POINTS), from, to, store.flags, settings.truth.peek());
    };
  }, [store, unit, theme]);
  return (
    <section class="trace" aria-label={text.trace.label}>
      <div class="plot" ref={place} />
      <TraceNames key={live.vehicle.value?.title} />
      <Spans />
    </section>
  );
}

/** Name, mark and figure of each line, in the line's own pattern. */
function TraceNames() {
  const { instruments, vehicle } = useLive();
  const traced = vehicle.value?.traced ?? [];
  const names = ["primary", "secondary", "application", "chamber"] as const;
  return (
    <ul class="trace-names">
      {names.map((name, i) =>
        (name === "chamber" && !settings.truth.value) || !instruments.has(traced[i]) ? null : (
          <li key={name} class={`line-${name}`}>
            <svg viewBox="0 0 26 12" aria-hidden="true">
              <path class="mark" d="M0,6 H26" />
              <path class="core" d="M0,6 H26" />
              <path class="cross" d="M0,6 H26" />
            </svg>
            <span>{text.trace[name]}</span>
            <output class="figure">{figure(instruments, traced[i], "pressure")}</output>
          </li>
        ),
      )}
    </ul>
  );
}

function Spans() {
  return (
    <section class="spans" aria-label={text.trace.span}>
      {SPANS.map((s) => (
        <button
          key={s}
          type="button"
          aria-pressed={span.value === s}
          onClick={() => {
            span.value = s;
          }}
        >
          {s < 60 ? `${s} ${text.trace.seconds}` : `${s / 60} min`}
        </button>
      ))}
    </section>
  );
}
