import { useLive } from "../live/live.ts";
import { text } from "../text/text.ts";
import type { Driver } from "./driver.ts";
import { held } from "./Pedal.tsx";

interface KnobProps {
  driver: Driver;
  control: "parking" | "trailerSupply";
  name: string;
}

/** A push-pull control from the side. It shows where the control is, which it may have left by itself. */
export function Knob({ driver, control, name }: KnobProps) {
  const { instruments } = useLive();
  const isIn = instruments.watch(`control.${control}`, 1).value === 1;
  const words = control === "parking" ? [text.cab.isIn, text.cab.isOut] : [text.cab.trailerIn, text.cab.trailerOut];
  const chocked = driver.at("chocks") > 0.5;
  return (
    <section class={`knob knob-${control}`} aria-label={name}>
      <h2>{name}</h2>
      <KnobPicture isIn={isIn} control={control} />
      <p class="state" role="status">
        {words[isIn ? 0 : 1]}
        {control === "parking" && !isIn ? (
          <span class="caution">{chocked ? text.cab.chocksIn : text.cab.chockFirst}</span>
        ) : null}
      </p>
      <div class="pair">
        <button
          type="button"
          class="key"
          aria-pressed={isIn}
          aria-label={`${name}: ${text.cab.pushIn}`}
          {...held(
            () => driver.pushIn(control),
            () => driver.letGo(control),
          )}
        >
          {text.cab.pushIn}
        </button>
        <button
          type="button"
          class="key"
          aria-pressed={!isIn}
          aria-label={`${name}: ${text.cab.pullOut}`}
          onClick={() => driver.pullOut(control)}
        >
          {text.cab.pullOut}
        </button>
      </div>
    </section>
  );
}

/** Yellow and four-sided for parking, red and eight-sided for the trailer: the cab's own convention, never a pipe's. */
function KnobPicture({ isIn, control }: { isIn: boolean; control: string }) {
  const x = isIn ? 40 : 68;
  const phantom = isIn ? 68 : 40;
  const face =
    control === "parking" ? "M112,18 l20,20 l-20,20 l-20,-20 Z" : "M104,19 h16 l11,11 v16 l-11,11 h-16 l-11,-11 v-16 Z";
  return (
    <svg class="knob-picture" viewBox="0 0 136 76" aria-hidden="true">
      <path class="panel" d="M24,4 V72" />
      <path class="hatching" d="M24,8 l-7,6 M24,22 l-7,6 M24,36 l-7,6 M24,50 l-7,6 M24,64 l-7,6" />
      <rect class="phantom" x={phantom} y={16} width={16} height={44} rx={5} />
      <path class="stem" d={`M24,32 H${x} M24,44 H${x}`} />
      <rect class="button-side" x={x} y={14} width={16} height={48} rx={5} />
      <path class="button-face" d={face} />
    </svg>
  );
}

/** Trailer hand valve: the same steps as the pedal, small and large. */
export function HandValve({ driver }: { driver: Driver }) {
  const live = useLive();
  const info = driver.info("handValve");
  if (!info) return null;
  const at = live.set.value.handValve ?? 0;
  return (
    <section class="hand" aria-label={text.cab.handValve}>
      <h2>{text.cab.handValve}</h2>
      <p class="state">{text.cab.percent(at)}</p>
      <div class="four">
        <button
          type="button"
          class="key"
          aria-label={`${text.cab.handValve}: ${text.cab.pressLess}`}
          onClick={() => driver.nudge("handValve", false)}
        >
          {text.cab.less}
        </button>
        <button
          type="button"
          class="key"
          aria-label={`${text.cab.handValve}: ${text.cab.pressMore}`}
          onClick={() => driver.nudge("handValve", true)}
        >
          {text.cab.more}
        </button>
        <button
          type="button"
          class="key"
          aria-label={`${text.cab.handValve} ${text.cab.release}`}
          aria-pressed={at === info.minimum}
          onClick={() => driver.set("handValve", info.minimum)}
        >
          {text.cab.release}
        </button>
        <button
          type="button"
          class="key"
          aria-label={`${text.cab.handValve} ${text.cab.full}`}
          aria-pressed={at === info.maximum}
          onClick={() => driver.set("handValve", info.maximum)}
        >
          {text.cab.full}
        </button>
      </div>
    </section>
  );
}
