import { useEffect, useRef } from "preact/hooks";
import { useLive } from "../../live/live.ts";
import { footRows, STACK_WIDTH } from "../layout/shapes.ts";
import { Zigzag } from "./marks.tsx";
import { useMoving } from "./paint.ts";
import { Squares } from "./StackValve.tsx";
import { type SymbolProps, turned } from "./symbolProps.ts";

const PRESSED = 0.02;
/** How far the pedal swings, degrees. */
const SWING = 24;

/** The foot valve: two sections, one pedal. Section 1 has its supply right, section 2 left. */
export function FootValve({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  const upper = useRef<SVGGElement>(null);
  const lower = useRef<SVGGElement>(null);
  const pedal = useRef<SVGGElement>(null);
  const s = placed.stance.square ?? 30;
  const rows = footRows(s);
  const left = (STACK_WIDTH - s) / 2;
  const mid = STACK_WIDTH / 2;
  useMoving(group, part);
  const live = useLive();
  const value = live.set.value.pedal ?? 0;
  useEffect(() => {
    const at = value > PRESSED ? 0 : -s;
    upper.current?.setAttribute("transform", `translate(0 ${at})`);
    lower.current?.setAttribute("transform", `translate(0 ${at})`);
    pedal.current?.setAttribute(
      "transform",
      `translate(0 ${(value * 6).toFixed(1)}) rotate(${(-value * SWING).toFixed(1)} ${mid + 16} 18)`,
    );
    group.current?.classList.toggle("applied", value > PRESSED);
  }, [value, s, mid]);
  return (
    <g ref={group} class="sym valve foot" transform={turned(placed)}>
      <path class="thin" d={`M${mid},${rows.pedal - 4} V${rows.lower}`} />
      <path class="thin" d={`M0,${rows.upper} H${STACK_WIDTH} M0,${rows.lower} H${STACK_WIDTH}`} />
      <g ref={pedal}>
        <path class="heavy" d={`M${mid - 22},2 L${mid + 18},18`} />
        <line class="thin" x1={mid} y1={11} x2={mid} y2={rows.pedal} />
      </g>
      {/* The squares of section 1 are turned: its supply is right. */}
      <g ref={upper} class="slide">
        <g transform={`translate(${STACK_WIDTH} ${2 * rows.upper}) scale(-1 -1)`}>
          <Squares left={left} top={rows.upper - s / 2 - s} s={s} />
        </g>
      </g>
      <g ref={lower} class="slide">
        <g transform={`translate(0 ${2 * rows.lower}) scale(1 -1)`}>
          <Squares left={left} top={rows.lower - s / 2 - s} s={s} />
        </g>
        <Zigzag x={mid} y={rows.lower + 1.5 * s} h={s / 2 - 2} />
      </g>
    </g>
  );
}
