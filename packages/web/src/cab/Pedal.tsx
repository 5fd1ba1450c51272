import { useRef } from "preact/hooks";
import { useLive, usePainter } from "../live/live.ts";
import { settings } from "../page/settings.ts";
import { text } from "../text/text.ts";
import { Application } from "./Dial.tsx";
import type { Driver } from "./driver.ts";
import { pedalSteps } from "./pedal.ts";

const LIFTED = 46;
const SWING = 22;

/** The pedal from the side; where it would stand released is a phantom line. */
function PedalPicture({ driver }: { driver: Driver }) {
  const arm = useRef<SVGGElement>(null);
  usePainter(() => {
    let shown = Number.NaN;
    return () => {
      const travel = Math.round(driver.at("pedal") * 200) / 200;
      if (travel === shown) return;
      shown = travel;
      arm.current?.setAttribute("transform", `rotate(${-LIFTED + travel * SWING} 16 82)`);
    };
  }, [driver]);
  return (
    <svg class="pedal-picture" viewBox="0 0 130 96" aria-hidden="true">
      <path class="ground" d="M0,92 H126" />
      <path
        class="hatching"
        d="M6,92 l-6,4 M22,92 l-6,4 M38,92 l-6,4 M54,92 l-6,4 M70,92 l-6,4 M86,92 l-6,4 M102,92 l-6,4 M118,92 l-6,4"
      />
      <rect class="body" x={48} y={70} width={16} height={22} />
      <path
        class="phantom"
        d={`M16,82 L${16 + 92 * Math.cos((LIFTED * Math.PI) / 180)},${82 - 92 * Math.sin((LIFTED * Math.PI) / 180)}`}
      />
      <g ref={arm} transform={`rotate(${-LIFTED} 16 82)`}>
        <path class="arm" d="M16,82 H108" />
      </g>
      <circle class="pivot" cx={16} cy={82} r={5} />
    </svg>
  );
}

/** Foot brake: steps and small steps, held by the latch or for as long as the finger stays. */
export function Pedal({ driver }: { driver: Driver }) {
  const info = driver.info("pedal");
  if (!info) return null;
  return (
    <section class="pedal" aria-label={text.cab.pedal}>
      <h2>
        {text.cab.pedal} <span class="aside">{text.cab.footValve}</span>
      </h2>
      <div class="pedal-top">
        <PedalPicture driver={driver} />
        <Application />
      </div>
      <PedalButtons driver={driver} />
    </section>
  );
}

export function PedalButtons({ driver }: { driver: Driver }) {
  const live = useLive();
  const info = driver.info("pedal");
  if (!info) return null;
  const travel = live.set.value.pedal ?? 0;
  const latched = driver.latch.value;
  const steps = pedalSteps(info, settings.unit.value, text.cab.full);
  return (
    <div class="pedal-buttons">
      <button type="button" class="key" aria-label={text.cab.pressLess} onClick={() => driver.nudge("pedal", false)}>
        {text.cab.less}
      </button>
      <button type="button" class="key" aria-label={text.cab.pressMore} onClick={() => driver.nudge("pedal", true)}>
        {text.cab.more}
      </button>
      <button type="button" class="key wide" aria-pressed={latched} onClick={() => driver.toggleLatch()}>
        {latched ? text.cab.latchOn : text.cab.latchOff}
      </button>
      {steps.map((step) => (
        <button
          key={step.label}
          type="button"
          class="key step"
          aria-pressed={Math.abs(step.travel - travel) < 1e-6}
          aria-label={`${text.cab.pedal} ${step.label}`}
          {...held(
            () => driver.press(step.travel),
            () => driver.liftOff(),
          )}
        >
          {step.label}
        </button>
      ))}
    </div>
  );
}

/** Handlers of a button that acts from the moment it is touched until it is left. Works by keyboard too. */
export function held(down: () => void, up: () => void) {
  return {
    onPointerDown: (event: PointerEvent) => {
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      down();
    },
    onPointerUp: up,
    onPointerCancel: up,
    onKeyDown: (event: KeyboardEvent) => {
      if ((event.key === " " || event.key === "Enter") && !event.repeat) {
        event.preventDefault();
        event.stopPropagation();
        down();
      }
    },
    onKeyUp: (event: KeyboardEvent) => {
      if (event.key === " " || event.key === "Enter") {
        event.preventDefault();
        event.stopPropagation();
        up();
      }
    },
  };
}
