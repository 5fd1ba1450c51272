import type { ComponentChildren } from "preact";
import { useRef } from "preact/hooks";
import { STACK_WIDTH } from "../layout/shapes.ts";
import { Arrow, Exhaust, PilotUp, Shut, Zigzag } from "./marks.tsx";
import { useMoving, useValue } from "./paint.ts";
import { type SymbolProps, turned } from "./symbolProps.ts";

/** Opening from which a valve is drawn as passing air, of its full travel. */
const OPEN = 0.02;

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
export function StackValve({ placed, part, head, tail }: SymbolProps & { head?: ComponentChildren; tail?: ComponentChildren }) {
  const group = useRef<SVGGElement>(null);
  const slide = useRef<SVGGElement>(null);
  const s = placed.stance.square ?? 30;
  const left = (STACK_WIDTH - s) / 2;
  const mid = STACK_WIDTH / 2;
  useMoving(group, part);
  useValue(part.channels.position, 0.01, (value) => {
    const open = value > OPEN;
    slide.current?.setAttribute("transform", `translate(0 ${open ? -s : 0})`);
    group.current?.classList.toggle("applied", open);
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
