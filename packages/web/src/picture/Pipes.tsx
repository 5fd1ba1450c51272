import { useMemo } from "preact/hooks";
import type { Pipe, Point, Tee } from "./layout/types.ts";

const FINE = new Set(["auxiliary"]);

/** All pipes, net by net: first a band of paper, so that a pipe below shows a gap where it is crossed, then the ink. */
export function Pipes({ pipes, tees }: { pipes: readonly Pipe[]; tees: readonly Tee[] }) {
  const nets = useMemo(() => byNet(pipes), [pipes]);
  return (
    <g class="pipes">
      {nets.map(([net, group]) => (
        <g key={net}>
          {group.map((p) => (
            <path
              key={p.id}
              class={p.role === "signal" || FINE.has(p.circuit) ? "halo fine" : "halo"}
              d={pathOf(trimmed(p.points))}
            />
          ))}
          {group.map((p) => (
            <PipeInk key={p.id} pipe={p} />
          ))}
        </g>
      ))}
      {tees.map((t) => (
        <circle key={`${t.x},${t.y}`} class={`tee c-${t.circuit}`} cx={t.x} cy={t.y} r={4.5} />
      ))}
    </g>
  );
}

function PipeInk({ pipe }: { pipe: Pipe }) {
  const d = pathOf(pipe.points);
  return (
    <g class={`c-${pipe.circuit} is-${pipe.role}`} data-pipe={pipe.id}>
      <path class="pipe" d={d} />
      <path class="core" d={d} />
      <path class="marks" d={d} />
    </g>
  );
}

/** Signals last, so that the thin line crosses on top. */
function byNet(pipes: readonly Pipe[]): [string, Pipe[]][] {
  const nets = new Map<string, Pipe[]>();
  for (const pipe of pipes) {
    const net = pipe.id.split(".")[0]!;
    nets.set(net, [...(nets.get(net) ?? []), pipe]);
  }
  const thin = (group: Pipe[]) => (group.every((p) => p.role === "signal") ? 1 : 0);
  return [...nets].sort((a, b) => thin(a[1]) - thin(b[1]));
}

/** The run without its outermost bit, so that its paper band does not cut what it joins. */
function trimmed(points: readonly Point[]): Point[] {
  const by = 9;
  const copy = points.map((p) => ({ ...p }));
  for (const [end, next] of [
    [0, 1],
    [copy.length - 1, copy.length - 2],
  ] as const) {
    const a = copy[end]!;
    const b = copy[next]!;
    const length = Math.abs(a.x - b.x) + Math.abs(a.y - b.y);
    const cut = Math.min(by, length / 2);
    a.x += Math.sign(b.x - a.x) * cut;
    a.y += Math.sign(b.y - a.y) * cut;
  }
  return copy;
}

function pathOf(points: readonly Point[]): string {
  return points.map((p, i) => `${i === 0 ? "M" : "L"}${p.x},${p.y}`).join("");
}
