import { useLive } from "../live/live.ts";
import { text } from "../text/text.ts";
import { Dial } from "./Dial.tsx";
import type { Driver } from "./driver.ts";
import { Engine } from "./Engine.tsx";
import { HandValve, Knob } from "./Knobs.tsx";
import { Lamps } from "./Lamps.tsx";
import { Pedal } from "./Pedal.tsx";

/** What the driver has: gauges, lamps and the controls. All of it readings. */
export function Cab({ driver }: { driver: Driver }) {
  const { instruments, vehicle } = useLive();
  if (!vehicle.value) return null;
  const nothing = !driver.has("pedal") && !driver.has("parking");
  return (
    <section class="cab" aria-label={text.cab.label}>
      {instruments.has("gauge.primary") ? (
        <div class="gauges">
          <Dial />
          <Lamps />
        </div>
      ) : null}
      <Pedal driver={driver} />
      {driver.has("parking") || driver.has("trailerSupply") ? (
        <div class={driver.has("trailerSupply") ? "knobs two" : "knobs"}>
          {driver.has("parking") ? <Knob driver={driver} control="parking" name={text.cab.parking} /> : null}
          {driver.has("trailerSupply") ? (
            <Knob driver={driver} control="trailerSupply" name={text.cab.trailerSupply} />
          ) : null}
        </div>
      ) : null}
      <HandValve driver={driver} />
      <Engine driver={driver} />
      {nothing ? <p class="no-cab">{text.cab.none}</p> : null}
    </section>
  );
}
