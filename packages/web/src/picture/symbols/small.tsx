import { useRef } from "preact/hooks";
import { useLive, usePainter } from "../../live/live.ts";
import { STILL_FLOW, usePicture } from "../pictureLive.ts";
import { Arrow, zigzagPath } from "./marks.tsx";
import { useMoving, useValue } from "./paint.ts";
import { type SymbolProps, turned } from "./symbolProps.ts";

/** Turns a symbol drawn for air that goes right into the way it stands. */
function wayTransform(way: string | undefined, size: number): string {
  const angle = { r: 0, b: 90, l: 180, t: 270 }[way ?? "r"] ?? 0;
  return `rotate(${angle} ${size / 2} ${size / 2})`;
}

/** Check valve: a ball on its seat, off it while air passes. */
export function CheckValve({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  const ball = useRef<SVGCircleElement>(null);
  const picture = usePicture();
  usePainter(() => {
    const flows = picture.delivered(part);
    let was: boolean | null = null;
    return (values) => {
      const open = flows.some((i) => values[i]! > STILL_FLOW);
      if (open === was) return;
      was = open;
      group.current?.classList.toggle("moving", open);
      ball.current?.setAttribute("cx", open ? "16" : "12.5");
    };
  }, [part]);
  const { box } = placed;
  return (
    <g ref={group} class="sym" transform={`translate(${box.x} ${box.y}) ${wayTransform(placed.stance.way, 24)}`}>
      <rect class="paper-fill" x={0} y={2} width={24} height={20} />
      <path d="M0,12 H5 M19,12 H24" class="heavy" />
      <path d="M12,3 L4,12 L12,21" />
      <circle ref={ball} class="fill air" cx={12.5} cy={12} r={5.5} />
    </g>
  );
}

/** Pressure protection valve: opens by the pressure before it, held shut by a spring. */
export function ProtectionValve({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  useMoving(group, part);
  const { box } = placed;
  return (
    <g ref={group} class="sym" transform={`translate(${box.x} ${box.y}) ${wayTransform(placed.stance.way, 36)}`}>
      <rect class="fill" x={3} y={3} width={30} height={30} />
      <path class="thin" d="M0,18 H3 M33,18 H36" />
      <Arrow x1={4} y1={18} x2={32} y2={18} />
      <path class="thin" d={zigzagPath(18, -8, 11, 9)} />
    </g>
  );
}

export function SafetyValve({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  useMoving(group, part);
  const { box } = placed;
  return (
    <g ref={group} class="sym" transform={`translate(${box.x} ${box.y})`}>
      <rect class="fill" x={3} y={4} width={18} height={18} />
      <Arrow x1={12} y1={21} x2={12} y2={6} />
      <path class="thin" d={zigzagPath(12, -7, 10, 8)} />
      <path class="thin fill" d="M21,8 L29,13 L21,18 Z" />
    </g>
  );
}

/** Pressure switch: contact open or closed. It is closed when the pressure is low. */
export function LowAirSwitch({ placed, part }: SymbolProps) {
  const contact = useRef<SVGPathElement>(null);
  const { box } = placed;
  useValue(part.channels.position, 1, (v) => contact.current?.setAttribute("d", v > 0.5 ? "M6,14 H18" : "M6,14 L17,7"));
  return (
    <g class="sym" transform={`translate(${box.x} ${box.y})`}>
      <rect class="fill thin" x={1} y={1} width={22} height={22} />
      <path class="thin" d="M3,14 H6 M18,14 H21" />
      <path ref={contact} class="thin" d="M6,14 L17,7" />
    </g>
  );
}

/** Drain cock: closed, or open and blowing. */
export function Drain({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  const { box } = placed;
  useValue(part.channels.position, STILL_FLOW, (flow) => group.current?.classList.toggle("moving", flow > STILL_FLOW));
  const upsideDown = placed.stance.flip ? `rotate(180 12 12)` : "";
  return (
    <g ref={group} class="sym drain" transform={`translate(${box.x} ${box.y}) ${upsideDown}`}>
      <path class="fill thin air" d="M6,2 H18 L6,16 H18 Z" />
      <path class="thin fill air" d="M8,18 H16 L12,24 Z" />
    </g>
  );
}

export function DoubleCheck({ placed, part }: SymbolProps) {
  const ball = useRef<SVGCircleElement>(null);
  const picture = usePicture();
  const lying = placed.stance.way === "t" || placed.stance.way === "b";
  usePainter(() => {
    const a = picture.instruments.index(picture.pressure(part, "11"));
    const b = picture.instruments.index(picture.pressure(part, "12"));
    let was = 0;
    return (values) => {
      if (a < 0 || b < 0) return;
      // The ball goes to the side of the lower pressure and shuts it.
      const side = values[a]! >= values[b]! ? 1 : -1;
      if (side === was) return;
      was = side;
      ball.current?.setAttribute(lying ? "cx" : "cy", String(24 + 9 * side));
    };
  }, [part]);
  const { box } = placed;
  return (
    <g class="sym" transform={lying ? `translate(${box.x} ${box.y})` : turned(placed)}>
      {lying ? (
        <>
          <rect class="fill" x={1} y={1} width={46} height={22} rx={5} />
          <path class="thin" d="M12,5 L6,12 L12,19 M36,5 L42,12 L36,19" />
        </>
      ) : (
        <>
          <rect class="fill" x={1} y={1} width={22} height={46} rx={5} />
          <path class="thin" d="M5,12 L12,6 L19,12 M5,36 L12,42 L19,36" />
        </>
      )}
      <circle ref={ball} class="solid" cx={lying ? 33 : 12} cy={lying ? 12 : 33} r={5} />
    </g>
  );
}

export function QuickRelease({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  useMoving(group, part);
  return (
    <g ref={group} class="sym" transform={turned(placed)}>
      <rect class="fill" x={2} y={2} width={32} height={32} />
      <circle class="thin" cx={19} cy={18} r={6} />
      <path class="thin air" d="M8,9 L17,18 L8,27" />
      <path class="thin fill" d="M34,13 L42,18 L34,23 Z" />
    </g>
  );
}

/** Load sensing valve and antilock modulator: a square with its mark. */
export function MarkedSquare({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  useMoving(group, part);
  return (
    <g
      ref={group}
      class="sym"
      transform={
        placed.stance.way
          ? `translate(${placed.box.x} ${placed.box.y}) ${wayTransform(placed.stance.way, 36)}`
          : turned(placed)
      }
    >
      <rect class="fill" x={2} y={2} width={32} height={32} />
      <Arrow x1={3} y1={18} x2={33} y2={18} />
      {part.kind === "loadSensing" ? (
        <path class="thin" d="M6,31 L30,5" />
      ) : (
        <path class="thin" d="M9,2 L15,8 M15,2 L21,8 M21,2 L27,8" />
      )}
    </g>
  );
}

export function Coupling({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  const { box } = placed;
  const live = useLive();
  const parted = (live.set.value[part.id] ?? 0) > 0.5;
  useValue(part.channels.lost, STILL_FLOW, (flow) => group.current?.classList.toggle("moving", flow > STILL_FLOW));
  return (
    <g ref={group} class="sym" transform={`translate(${box.x} ${box.y}) ${wayTransform(placed.stance.way, 24)}`}>
      <g transform={parted ? "translate(-7 0)" : undefined}>
        <path d="M0,12 H2" />
        <path class="air" d="M11,3 A9,9 0 0 0 11,21" />
      </g>
      <path d="M24,12 H22" />
      <path class="air" d="M13,3 A9,9 0 0 1 13,21" />
    </g>
  );
}

export function Cock({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  useMoving(group, part);
  const { box } = placed;
  return (
    <g ref={group} class="sym" transform={`translate(${box.x} ${box.y}) ${wayTransform(placed.stance.way, 24)}`}>
      <path class="fill air" d="M2,5 V19 L22,5 V19 Z" />
    </g>
  );
}

export function Load({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  const { box } = placed;
  useValue(part.channels.flow, STILL_FLOW, (flow) => group.current?.classList.toggle("moving", flow > STILL_FLOW));
  return (
    <g ref={group} class="sym" transform={`translate(${box.x} ${box.y})`}>
      <rect class="fill" x={2} y={2} width={20} height={20} />
      <path class="thin air" d="M7,12 H17 M13,8 L17,12 L13,16" />
    </g>
  );
}

/** Protection valve of several circuits: one small valve with its spring for each outlet. */
export function ManyWay({ placed, part }: SymbolProps) {
  const group = useRef<SVGGElement>(null);
  useMoving(group, part);
  const { box } = placed;
  const rows = [0, 1, 2, 3].map((i) => 6 + (i * (box.h - 12)) / 4);
  return (
    <g ref={group} class="sym" transform={`translate(${box.x} ${box.y})`}>
      <rect class="fill" x={1} y={1} width={box.w - 2} height={box.h - 2} />
      <path class="thin" d={`M1,${box.h / 2} H12 M12,14 V${box.h - 14}`} />
      {rows.map((y) => (
        <g key={y}>
          <path class="thin" d={`M12,${y + 9} H22 M26,${y + 4} L20,${y + 9} L26,${y + 14}`} />
          <circle class="thin fill" cx={28} cy={y + 9} r={4} />
          <path class="thin" d={`M32,${y + 9} l3,-4 l4,8 l4,-8 l3,4 H${box.w - 1}`} />
        </g>
      ))}
    </g>
  );
}

/** Stands for everything before the couplings when a trailer is tested alone. */
export function TestRig({ placed }: SymbolProps) {
  const { box } = placed;
  return (
    <g class="sym" transform={`translate(${box.x} ${box.y})`}>
      <rect class="fill" x={1} y={1} width={box.w - 2} height={box.h - 2} />
      <path class="thin" d={`M10,${box.h - 12} L${box.w - 10},12 M${box.w - 22},12 H${box.w - 10} V24`} />
    </g>
  );
}
