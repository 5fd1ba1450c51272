import type { ComponentChildren } from "preact";
import { useRef } from "preact/hooks";
import { usePainter } from "../../live/live.ts";
import { STACK_WIDTH } from "../layout/shapes.ts";
import { STILL_FLOW, usePicture } from "../pictureLive.ts";
import type { SchematicPart } from "../schematic.ts";
import { Arrow, Exhaust, PilotUp, Shut, Zigzag } from "./marks.tsx";
import { useMoving } from "./paint.ts";
import { type SymbolProps, turned } from "./symbolProps.ts";

/** Opening from which a seat is drawn open, of its full travel. */
const OPEN = 0.02;
/** Delivery below this is none, Pa. */
const EMPTY = 7000;

/**
 * Which position a valve stands in, from what the model says of it: its own position, its seats, or which way air goes.
 * Between the two, both seats shut, it laps.
 */
function usePosition(part: SchematicPart, apply: (position: Position) => void): void {
  const picture = usePicture();
  usePainter(() => {
    const index = (channel: string | undefined) => picture.instruments.index(channel);
    const own = index(part.channels.position);
    const vent = index(part.channels.exhausting);
    const exhaust = index(part.channels.exhaust);
    const delivery = index(picture.pressure(part, part.ports["2"] ? "2" : "21"));
    const flows = picture.delivered(part);
    let was: Position | null = null;
    return (values) => {
      let next: Position;
      if (own >= 0 && values[own]! > OPEN) next = 1;
      else if (own >= 0 && vent < 0) next = 0;
      else if ((vent >= 0 && values[vent]! > OPEN) || (exhaust >= 0 && values[exhaust]! > STILL_FLOW)) next = 0;
      else if (delivery >= 0 && values[delivery]! < EMPTY) next = 0;
      else next = own < 0 && flows.some((i) => values[i]! > STILL_FLOW) ? 1 : 0.5;
      if (next === was) return;
      was = next;
      apply(next);
    };
  }, [part]);
}

/** 0 vents, 1 passes air, 0.5 laps. */
type Position = 0 | 0.5 | 1;

/** Square that passes air from the supply port to the delivery port, and the one that vents the delivery port. */
export function Squares({ left, top, s }: { left: number; top: number; s: number }) {
  const right = left + s;
  const low = s / 3;
  return (
    <>
      <g class="when-release">
        <rect class="fill" x={left} y={top} width={s} height={s} />
        <Arrow x1={right} y1={top + s / 2} x2={left + 1} y2={top + s / 2 + low} />
        <Shut x={left} y={top + s / 2} into={1} />
      </g>
      <g class="when-apply">
        <rect class="fill" x={left} y={top + s} width={s} height={s} />
        <Arrow x1={left} y1={top + 1.5 * s} x2={right - 1} y2={top + 1.5 * s} />
        <Shut x={left} y={top + 1.5 * s + low} into={1} />
      </g>
    </>
  );
}

/** A valve with two positions: the stack slides so that the square in force stands at the ports. */
export function StackValve({
  placed,
  part,
  head,
  tail,
}: SymbolProps & { head?: ComponentChildren; tail?: ComponentChildren }) {
  const group = useRef<SVGGElement>(null);
  const slide = useRef<SVGGElement>(null);
  const s = placed.stance.square ?? 30;
  const left = (STACK_WIDTH - s) / 2;
  const mid = STACK_WIDTH / 2;
  useMoving(group, part);
  usePosition(part, (position) => {
    slide.current?.setAttribute("transform", `translate(0 ${-s * position})`);
    group.current?.classList.toggle("applied", position === 1);
  });
  return (
    <g ref={group} class="sym valve" transform={turned(placed)}>
      <path class="thin" d={`M${STACK_WIDTH},${2 * s} H${left + s} M0,${2 * s} H${left}`} />
      <Exhaust x={left} y={2 * s + s / 3} />
      {tail ? null : <path class="thin" d={`M${mid},${4 * s} V${2.5 * s}`} />}
      <g ref={slide} class="slide">
        {head ?? <Zigzag x={mid} y={1.5 * s - 12} h={12} />}
        {tail ?? <PilotUp x={mid} y={3.5 * s + 9} />}
        <Squares left={left} top={1.5 * s} s={s} />
      </g>
    </g>
  );
}

/** A valve worked by hand: the knob of the driver's control on top. */
export function KnobValve({ placed, part }: SymbolProps) {
  const s = placed.stance.square ?? 30;
  const mid = STACK_WIDTH / 2;
  const top = 1.5 * s;
  const knob = (
    <g>
      <line x1={mid} y1={top} x2={mid} y2={top - 7} />
      <rect class="solid" x={mid - 13} y={top - 13} width={26} height={7} />
    </g>
  );
  return <StackValve placed={placed} part={part} head={knob} tail={<g />} />;
}

/** A valve worked by a lever with stops. */
export function LeverValve({ placed, part }: SymbolProps) {
  const s = placed.stance.square ?? 30;
  const mid = STACK_WIDTH / 2;
  const top = 1.5 * s;
  const lever = <path class="heavy" d={`M${mid},${top} L${mid + 16},${top - 13}`} />;
  const spring = <Zigzag x={mid} y={3.5 * s} h={12} />;
  return <StackValve placed={placed} part={part} head={lever} tail={spring} />;
}
