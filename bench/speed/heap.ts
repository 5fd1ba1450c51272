import { spawnSync } from "node:child_process";
import { PSI, Simulation } from "@brakeyard/engine";
import { advance } from "./product.ts";
import { benchBus } from "./subjects.ts";

export interface HeapGrowth {
  readonly steps: number;
  /** Growth of what stays on the heap, array memory included, bytes. */
  readonly grownBytes: number;
}

/** First argument by which this bundle knows that it is the child. */
export const HEAP_CHILD = "measure-heap";
const WARM_STEPS = 50_000;
const LOOKS = 5;

/** Measures in a process of its own, where nothing else moves the heap. */
export function heapGrowth(bundle: string, steps: number): HeapGrowth {
  const child = spawnSync(process.execPath, ["--expose-gc", bundle, HEAP_CHILD, String(steps)], { encoding: "utf8" });
  if (child.status !== 0) throw new Error(`the heap could not be measured: ${child.stderr}`);
  return JSON.parse(child.stdout) as HeapGrowth;
}

/** The child's part: presses without end, events taken as a page takes them, until so many steps are done. */
export function heapChild(steps: number): HeapGrowth {
  const bus = benchBus();
  const start = bus.assembly.start({ otherTanksPa: 110 * PSI, parking: "in", engineRpm: 1200 });
  const run = new Simulation(bus.model, { plan: bus.plan, start });
  const row = new Float64Array(bus.model.channels.length);
  const until = (count: number): void => {
    while (run.statistics().steps < count) press(run, row);
  };
  until(WARM_STEPS);
  const before = settledHeap();
  const first = run.statistics().steps;
  until(WARM_STEPS + steps);
  return { steps: run.statistics().steps - first, grownBytes: settledHeap() - before };
}

function press(run: Simulation, row: Float64Array<ArrayBuffer>): void {
  run.setControl({ tick: run.tick, control: "pedal", value: 1 });
  advance(run, run.tick + 100);
  run.setControl({ tick: run.tick, control: "pedal", value: 0 });
  advance(run, run.tick + 100);
  run.sample(run.tick, row);
  run.takeEvents();
}

/** The middle of several looks at the heap, each after a collection. */
function settledHeap(): number {
  const collect = (globalThis as { gc?: () => void }).gc;
  if (!collect) throw new Error("start this with --expose-gc");
  const looks = Array.from({ length: LOOKS }, () => {
    collect();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  });
  return looks.sort((a, b) => a - b)[(LOOKS - 1) / 2] as number;
}
