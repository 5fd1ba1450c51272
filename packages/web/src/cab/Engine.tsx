import { computed } from "@preact/signals";
import { useLive } from "../live/live.ts";
import { text } from "../text/text.ts";
import type { Driver } from "./driver.ts";
import { held } from "./Pedal.tsx";

/** Share of idle speed at which an engine that was cranked counts as running. */
const CAUGHT = 0.6;
const TURNING_RPM = 30;

/** Key, starter and engine speed. An electric vehicle has only the key. */
export function Engine({ driver }: { driver: Driver }) {
  const live = useLive();
  const keyOn = (live.set.value.key ?? 0) > 0.5;
  if (!driver.has("key") && !driver.has("throttle")) return null;
  return (
    <section class="engine" aria-label={text.cab.engine}>
      <h2>
        {text.cab.key} <span class="aside">{keyOn ? text.cab.on : text.cab.off}</span>
      </h2>
      <div class="pair">
        {driver.has("key") ? (
          <button
            type="button"
            class="key"
            aria-pressed={keyOn}
            aria-label={`${text.cab.key} ${keyOn ? text.cab.on : text.cab.off}`}
            onClick={() => driver.toggle("key")}
          >
            {text.cab.key}
          </button>
        ) : null}
        {driver.has("starter") ? (
          <button
            type="button"
            class="key"
            {...held(
              () => driver.set("starter", 1),
              () => driver.set("starter", 0),
            )}
          >
            {text.cab.start}
          </button>
        ) : null}
      </div>
      {driver.has("throttle") ? <Speed driver={driver} /> : null}
    </section>
  );
}

function Speed({ driver }: { driver: Driver }) {
  const { instruments, set, vehicle } = useLive();
  const [idle = 0, fast = 0] = vehicle.value?.engineSpeedsRpm ?? [];
  const tens = instruments.watch("engine.speed", 10);
  const rpm = computed(() => (Number.isNaN(tens.value) ? "" : String(Math.max(0, tens.value * 10))));
  const state = computed(() => {
    const now = tens.value * 10;
    if (!(now > TURNING_RPM)) return text.cab.engineState.off;
    if ((set.value.starter ?? 0) > 0.5 && now < idle * CAUGHT) return text.cab.engineState.cranking;
    const asked = set.value.throttle ?? 0;
    if (asked <= idle) return text.cab.engineState.idle;
    return asked <= fast ? text.cab.engineState.fast : text.cab.engineState.high;
  });
  return (
    <>
      <p class="engine-speed">
        <output class="figure" aria-label={text.cab.engine}>
          {rpm}
        </output>
        <span class="unit">
          {text.cab.rpm} {state}
        </span>
      </p>
      <div class="pair">
        <button
          type="button"
          class="key"
          aria-label={`${text.cab.engine}: ${text.cab.slower}`}
          onClick={() => driver.engine(false)}
        >
          {text.cab.less}
        </button>
        <button
          type="button"
          class="key"
          aria-label={`${text.cab.engine}: ${text.cab.faster}`}
          onClick={() => driver.engine(true)}
        >
          {text.cab.more}
        </button>
      </div>
    </>
  );
}
