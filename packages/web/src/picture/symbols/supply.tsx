import { useRef } from "preact/hooks";
import { STILL_FLOW } from "../pictureLive.ts";
import { Arrow, zigzagPath } from "./marks.tsx";
import { useMoving, useValue } from "./paint.ts";
import type { SymbolProps } from "./symbolProps.ts";

/** Compressor: circle with the triangle of a pneumatic source; a shaft, or a motor, at its left. */
export function Compressor({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  useMoving(group, part);
  const { box } = placed;
  const electric = part.kind === "electricCompressor";
  return (
    <g ref={group} class="sym" transform={`translate(${box.x} ${box.y})`}>
      {electric ? (
        <circle class="fill thin" cx={4} cy={24} r={9} />
      ) : (
        <path class="thin" d="M0,20 H-9 M0,28 H-9 M-9,16 q-6,8 0,16" />
      )}
      <circle class="fill" cx={24} cy={24} r={23} />
      {electric ? (
        <text class="port" x={10} y={28.5} font-size={13} text-anchor="middle">
          M
        </text>
      ) : null}
      <path class="solid air" d="M30,14 L46,24 L30,34 Z" />
    </g>
  );
}

/** Dryer: the diamond of an air conditioner with its drain below. Purging is drawn as an open drain. */
export function Dryer({ placed, part }: SymbolProps) {
  const drain = useRef<SVGPathElement>(null);
  const { box } = placed;
  useValue(part.channels.purge, STILL_FLOW, (flow) => drain.current?.classList.toggle("accent", flow > STILL_FLOW));
  return (
    <g class="sym" transform={`translate(${box.x} ${box.y})`}>
      <path class="fill" d="M24,1 L47,24 L24,47 L1,24 Z" />
      <path class="thin" d="M24,1 V47" stroke-dasharray="4 3" />
      <path class="thin" d="M14,30 L24,36 L34,30" />
      <path ref={drain} class="fill thin" d="M19,48 H29 L24,56 Z" />
    </g>
  );
}

export function Governor({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  const arrow = useRef<SVGGElement>(null);
  const shut = useRef<SVGGElement>(null);
  const { box } = placed;
  // While the compressor is loaded the governor is shut; it passes its signal to unload.
  useValue(part.channels.position, 1, (loaded) => {
    arrow.current?.setAttribute("visibility", loaded > 0.5 ? "hidden" : "visible");
    shut.current?.setAttribute("visibility", loaded > 0.5 ? "visible" : "hidden");
  });
  return (
    <g ref={group} class="sym" transform={`translate(${box.x} ${box.y})`}>
      <path class="thin" d={zigzagPath(18, -10, 10, 10)} />
      <rect class="fill" x={1} y={1} width={34} height={34} />
      <g ref={arrow}>
        <Arrow x1={34} y1={18} x2={3} y2={18} />
      </g>
      <g ref={shut}>
        <path class="thin" d="M35,18 H28 M28,14 V22 M1,18 H8 M8,14 V22" />
      </g>
    </g>
  );
}
