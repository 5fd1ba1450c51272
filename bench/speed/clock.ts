/** Time a piece of work took, ms: of the processor (all threads of this process) and on the wall. */
export interface Took {
  readonly cpuMs: number;
  readonly wallMs: number;
}

/** Times one piece of work. */
export function timed(work: () => void): Took {
  const cpu = process.cpuUsage();
  const wall = process.hrtime.bigint();
  work();
  const wallMs = Number(process.hrtime.bigint() - wall) / 1e6;
  const { user, system } = process.cpuUsage(cpu);
  return { cpuMs: (user + system) / 1000, wallMs };
}

/**
 * The least of several times after some that only warm the code up. On a machine that does other work too, the least is nearest to what the
 * work itself costs. Processor and wall are taken apart: each is the least of its own.
 */
export function bestOf(warm: number, counted: number, work: () => void): Took {
  for (let i = 0; i < warm; i++) work();
  let best: Took = { cpuMs: Number.POSITIVE_INFINITY, wallMs: Number.POSITIVE_INFINITY };
  for (let i = 0; i < counted; i++) {
    const took = timed(work);
    best = { cpuMs: Math.min(best.cpuMs, took.cpuMs), wallMs: Math.min(best.wallMs, took.wallMs) };
  }
  return best;
}

/** Two times one after the other. */
export function plus(a: Took, b: Took): Took {
  return { cpuMs: a.cpuMs + b.cpuMs, wallMs: a.wallMs + b.wallMs };
}

export const NO_TIME: Took = { cpuMs: 0, wallMs: 0 };
