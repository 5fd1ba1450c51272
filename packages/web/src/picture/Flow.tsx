import { useEffect, useRef } from "preact/hooks";
import { TICKS_PER_SECOND } from "../live/contract.ts";
import type { Pipe, Point } from "./layout/types.ts";
import { STILL_FLOW, usePicture } from "./pictureLive.ts";

/** Distance between arrowheads in a pipe, sheet px. */
const SPACING = 30;
/** Speed of an arrowhead at the reference flow, px per second of model time; it goes with the square root of the flow. */
const REFERENCE_SPEED = 70;
const REFERENCE_FLOW = 0.005;
const LEAST_SPEED = 10;
/** No arrowhead moves further than this in one frame, or the eye would lose it. */
const LONGEST_HOP = 11;
/** Less than this nobody sees, px. */
const LEAST_HOP = 0.5;
const SMALL_FLOW = 4e-4;

interface Moving {
  path: SVGPathElement;
  flows: { index: number; sign: number }[];
  lengths: number[];
  points: readonly Point[];
  total: number;
  offset: number;
  /** Movement not drawn yet, px. */
  owed: number;
  drawn: boolean;
}

/** Arrowheads that ride in the pipes at a speed that follows the mass flow. */
export function Flow({ pipes }: { pipes: readonly Pipe[] }) {
  const group = useRef<SVGGElement>(null);
  const picture = usePicture();
  useEffect(() => {
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const moving = pipes.map((pipe, i) =>
      movingOf(pipe, group.current!.children[i] as SVGPathElement, (id) => picture.flowIndex(id)),
    );
    let lastTick = -1;
    return picture.instruments.paint((values, tick) => {
      const elapsedS = lastTick < 0 || still ? 0 : (tick - lastTick) / TICKS_PER_SECOND;
      lastTick = tick;
      for (const m of moving) draw(m, values, elapsedS);
    });
  }, [pipes, picture]);
  return (
    <g ref={group} class="chevrons only-truth">
      {pipes.map((p) => (
        <path key={p.id} visibility="hidden" />
      ))}
    </g>
  );
}

function movingOf(pipe: Pipe, path: SVGPathElement, indexOf: (line: string) => number): Moving {
  const lengths: number[] = [];
  for (let i = 1; i < pipe.points.length; i += 1) {
    const a = pipe.points[i - 1]!;
    const b = pipe.points[i]!;
    lengths.push(Math.abs(a.x - b.x) + Math.abs(a.y - b.y));
  }
  const flows = pipe.flows.map((f) => ({ index: indexOf(f.line), sign: f.sign })).filter((f) => f.index >= 0);
  return {
    path,
    flows,
    lengths,
    points: pipe.points,
    total: lengths.reduce((a, b) => a + b, 0),
    offset: 0,
    owed: 0,
    drawn: false,
  };
}

function draw(m: Moving, values: Float64Array, elapsedS: number): void {
  let flow = 0;
  for (const f of m.flows) flow += f.sign * values[f.index]!;
  const size = Math.abs(flow);
  if (size < STILL_FLOW) {
    if (m.drawn) m.path.setAttribute("visibility", "hidden");
    m.drawn = false;
    return;
  }
  const hop = Math.min(LONGEST_HOP, elapsedS * (LEAST_SPEED + REFERENCE_SPEED * Math.sqrt(size / REFERENCE_FLOW)));
  m.owed += Math.sign(flow) * hop;
  if (Math.abs(m.owed) < LEAST_HOP && m.drawn) return;
  m.offset = (((m.offset + m.owed) % SPACING) + SPACING) % SPACING;
  m.owed = 0;
  m.path.setAttribute("d", chevrons(m, flow > 0 ? 1 : -1, size < SMALL_FLOW ? 0.72 : 1));
  if (!m.drawn) m.path.setAttribute("visibility", "visible");
  m.drawn = true;
}

function chevrons(m: Moving, way: 1 | -1, scale: number): string {
  let path = "";
  let run = 0;
  let before = 0;
  const clear = 8;
  const start = m.total < SPACING ? m.total / 2 : m.offset;
  for (let at = start; at < m.total - clear; at += SPACING) {
    if (at < clear) continue;
    while (at > before + m.lengths[run]!) {
      before += m.lengths[run]!;
      run += 1;
    }
    const a = m.points[run]!;
    const b = m.points[run + 1]!;
    const ux = Math.sign(b.x - a.x);
    const uy = Math.sign(b.y - a.y);
    path += chevron(a.x + ux * (at - before), a.y + uy * (at - before), ux * way * scale, uy * way * scale);
  }
  return path;
}

const round = (v: number) => Math.round(v * 10) / 10;

/** An arrowhead with a notch, its tip in direction (ux, uy). */
function chevron(x: number, y: number, ux: number, uy: number): string {
  const bx = x - 5 * ux;
  const by = y - 5 * uy;
  return `M${round(x + 7 * ux)},${round(y + 7 * uy)}L${round(bx - 5.4 * uy)},${round(by + 5.4 * ux)}L${round(x - 2 * ux)},${round(y - 2 * uy)}L${round(bx + 5.4 * uy)},${round(by - 5.4 * ux)}Z`;
}
