import { Application } from "../cab/Dial.tsx";
import type { Driver } from "../cab/driver.ts";
import { Lamps } from "../cab/Lamps.tsx";
import { held, PedalButtons } from "../cab/Pedal.tsx";
import { figure } from "../live/figures.ts";
import { useLive } from "../live/live.ts";
import { text } from "../text/text.ts";

/** On a phone: needles, lamps, pedal and parking control, always in reach of the thumb. */
export function Dock({ driver }: { driver: Driver }) {
  const { instruments } = useLive();
  if (!driver.has("pedal")) return null;
  const isIn = instruments.watch("control.parking", 1).value === 1;
  return (
    <section class="dock" aria-label={text.cab.label}>
      <div class="dock-readings">
        <output class="reading primary" aria-label={text.cab.gauge.primary}>
          {figure(instruments, "gauge.primary", "pressure")}
        </output>
        <output class="reading secondary" aria-label={text.cab.gauge.secondary}>
          {figure(instruments, "gauge.secondary", "pressure")}
        </output>
        <Lamps />
      </div>
      <div class="dock-controls">
        <Application />
        <PedalButtons driver={driver} />
        {driver.has("parking") ? (
          <div class="dock-parking">
            <button
              type="button"
              class="key"
              aria-pressed={isIn}
              aria-label={`${text.cab.parking}: ${text.cab.pushIn}`}
              {...held(
                () => driver.pushIn("parking"),
                () => driver.letGo("parking"),
              )}
            >
              {text.cab.pushIn}
            </button>
            <button
              type="button"
              class="key"
              aria-pressed={!isIn}
              aria-label={`${text.cab.parking}: ${text.cab.pullOut}`}
              onClick={() => driver.pullOut("parking")}
            >
              {text.cab.pullOut}
            </button>
          </div>
        ) : null}
      </div>
    </section>
  );
}
