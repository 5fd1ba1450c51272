/** Small marks that several symbols share, after ISO 1219-1. Coordinates are sheet pixels. */

/** A spring, seen from the side, between two heights. */
export function Zigzag({ x, y, h, w = 10 }: { x: number; y: number; h: number; w?: number }) {
  return <path class="thin" d={zigzagPath(x, y, h, w)} />;
}

export function zigzagPath(x: number, y: number, h: number, w: number): string {
  const q = h / 5;
  const l = x - w / 2;
  const r = x + w / 2;
  return `M${x},${y} L${l},${y + q} L${r},${y + 2 * q} L${l},${y + 3 * q} L${r},${y + 4 * q} L${x},${y + h}`;
}

/** A spring that lies, between two widths. */
export function lyingZigzag(x: number, y: number, w: number, h: number, turns = 6): string {
  let path = `M${x},${y}`;
  for (let i = 1; i < turns; i += 1)
    path += ` L${(x + (w * i) / turns).toFixed(1)},${i % 2 === 1 ? y - h / 2 : y + h / 2}`;
  return `${path} L${x + w},${y}`;
}

/** Open triangle that points left (exhaust) with its base at x. */
export function Exhaust({ x, y }: { x: number; y: number }) {
  return <path class="thin fill" d={`M${x},${y - 5} L${x - 8},${y} L${x},${y + 5} Z`} />;
}

/** Pilot: open triangle that points up, its base at y. */
export function PilotUp({ x, y }: { x: number; y: number }) {
  return <path class="thin fill" d={`M${x - 5},${y} L${x},${y - 8} L${x + 5},${y} Z`} />;
}

/** An arrow head at the end of a straight line. */
export function Arrow({ x1, y1, x2, y2, cls = "" }: { x1: number; y1: number; x2: number; y2: number; cls?: string }) {
  const length = Math.hypot(x2 - x1, y2 - y1);
  const ux = (x2 - x1) / length;
  const uy = (y2 - y1) / length;
  const bx = x2 - 8 * ux;
  const by = y2 - 8 * uy;
  return (
    <g class={cls}>
      <line class="thin air" x1={x1} y1={y1} x2={bx} y2={by} />
      <path
        class="air solid"
        d={`M${x2},${y2} L${(bx - 4 * uy).toFixed(1)},${(by + 4 * ux).toFixed(1)} L${(bx + 4 * uy).toFixed(1)},${(by - 4 * ux).toFixed(1)} Z`}
      />
    </g>
  );
}

/** A closed port inside a square: a short line from the edge with a bar across. */
export function Shut({ x, y, into }: { x: number; y: number; into: 1 | -1 }) {
  const end = x + 7 * into;
  return <path class="thin" d={`M${x},${y} H${end} M${end},${y - 4} V${y + 4}`} />;
}
