import os from "node:os";
import { fileURLToPath } from "node:url";
import { bestOf, type Took } from "./clock.ts";
import { HEAP_CHILD, heapChild, heapGrowth } from "./heap.ts";
import { firstLoad } from "./page.ts";
import { lengthS, runProduct } from "./product.ts";
import { leakDown } from "./quiet.ts";
import { fastestRungeKutta, type RungeKuttaResult } from "./ratio.ts";
import { type BenchReport, type Row, reportOf } from "./report.ts";
import { inCabCheck, type Session } from "./session.ts";
import { type BenchSubject, benchBus, tenBrakes } from "./subjects.ts";

export { benchText } from "./report.ts";

export interface BenchOptions {
  /** Fewer repetitions, Runge-Kutta on a short part only, a tenth of the steps for the heap. */
  readonly quick: boolean;
  /** The folder of the clone. */
  readonly root: string;
  /** Tells how far it is. */
  say(line: string): void;
}

const REPEAT = { warm: 3, counted: 9 };
const QUICK_REPEAT = { warm: 2, counted: 4 };

/** Measures everything, one after the other, in one run. */
export async function measure(options: BenchOptions): Promise<BenchReport> {
  const { quick, root, say } = options;
  const bus = benchBus();
  const session = inCabCheck(bus);
  say(`two-axle in-cab check, ${lengthS(session)} s`);
  const took = time(bus, session, quick);
  say("ten-brake combination");
  const ten = tenBrakes();
  const tenSession = inCabCheck(ten);
  const tenTook = time(ten, tenSession, quick);
  say("plain Runge-Kutta of the same right-hand side");
  const rungeKutta = fastestRungeKutta(bus, session, !quick, say);
  say("an hour of leak-down");
  const quiet = quietRow();
  say("heap");
  const heap = heapRow(quick);
  return reportOf(machine(), quick, [
    speedRow("twoAxle", bus, session, took, { bar: 2500, stretch: 4000 }),
    speedRow("tenBrakes", ten, tenSession, tenTook, { bar: 800 }),
    ratioRow(rungeKutta, quick),
    ...accuracyRows(rungeKutta),
    quiet,
    heap,
    pageRow(root),
  ]);
}

function time(subject: BenchSubject, session: Session, quick: boolean): Took {
  const { warm, counted } = quick ? QUICK_REPEAT : REPEAT;
  return bestOf(warm, counted, () => {
    runProduct(subject, session);
  });
}

function machine(): BenchReport["machine"] {
  const [load = 0] = os.loadavg();
  return {
    node: process.versions.node,
    v8: process.versions.v8,
    processor: os.cpus()[0]?.model.trim() ?? "unknown",
    cores: os.cpus().length,
    system: `${os.type()} ${os.arch()}`,
    "load at the end": Number(load.toFixed(1)),
  };
}

function speedRow(
  id: string,
  subject: BenchSubject,
  session: Session,
  took: Took,
  bars: { bar: number; stretch?: number },
): Row {
  const seconds = lengthS(session);
  const run = runProduct(subject, session);
  const statistics = run.statistics();
  const perCpu = (1000 * seconds) / took.cpuMs;
  const perWall = (1000 * seconds) / took.wallMs;
  const attempts = statistics.factorizations;
  return {
    id,
    what: `${subject.title}, ${session.title} of ${seconds.toFixed(0)} s`,
    figure: perCpu,
    unit: "s/s",
    ...bars,
    better: "more",
    note:
      `best: ${took.cpuMs.toFixed(0)} ms of processor, ${took.wallMs.toFixed(0)} ms on the wall (${perWall.toFixed(0)} s/s); ` +
      `${statistics.steps} steps, ${statistics.rejected} thrown away, ${((1000 * took.cpuMs) / attempts).toFixed(1)} us an attempt`,
    detail: { seconds, ...took, perCpu, perWall, statistics, entries: session.log.length, hash: run.traceHash() },
  };
}

function ratioRow({ stepS, session, took, productTook, errors }: RungeKuttaResult, quick: boolean): Row {
  const part = lengthS(session);
  const ratio = took.cpuMs / productTook.cpuMs;
  const wallRatio = took.wallMs / productTook.wallMs;
  const scaled = quick ? `timed over ${part.toFixed(0)} s and scaled to the whole session; ` : "";
  return {
    id: "rungeKutta",
    what: "plain Runge-Kutta of the same accuracy takes longer by",
    figure: ratio,
    unit: "times",
    bar: 40,
    better: "more",
    note:
      `its step ${(1e6 * stepS).toFixed(1)} us; ${scaled}by turns, ${(took.cpuMs / 1000).toFixed(1)} s of processor against ${(productTook.cpuMs / 1000).toFixed(2)} s ` +
      `(on the wall ${wallRatio.toFixed(0)} times); its worst pressure ${errors.pressure.toExponential(1)}, worst event ${(1e3 * errors.eventS).toFixed(3)} ms`,
    detail: { stepS, partS: part, took, productTook, ratio, wallRatio, errors },
  };
}

/** How accurate the product was on what was timed: without this the speeds say nothing. */
function accuracyRows({ session, productErrors }: RungeKuttaResult): Row[] {
  const note = `${session.title} of ${lengthS(session).toFixed(0)} s against the same at 1e-9, 50 ms round events left out`;
  const row = { better: "less" as const, note, detail: { ...productErrors } };
  return [
    {
      ...row,
      id: "pressureError",
      what: "worst pressure of the product",
      figure: 100 * productErrors.pressure,
      unit: "%",
      bar: 0.1,
    },
    {
      ...row,
      id: "eventError",
      what: "worst event of the product",
      figure: 1000 * productErrors.eventS,
      unit: "ms",
      bar: 2,
    },
  ];
}

function quietRow(): Row {
  const { statistics, leftPa } = leakDown();
  return {
    id: "leakDown",
    what: "one hour of leak-down",
    figure: statistics.steps,
    unit: "steps",
    bar: 150,
    better: "less",
    note: `${statistics.rejected} thrown away; the leaking tank ends at ${(leftPa / 6894.757).toFixed(1)} psi`,
    detail: { statistics, leftPa },
  };
}

function heapRow(quick: boolean): Row {
  const { steps, grownBytes } = heapGrowth(fileURLToPath(import.meta.url), quick ? 100_000 : 1_000_000);
  return {
    id: "heap",
    what: `heap growth over ${steps} steps`,
    figure: grownBytes / 1e6,
    unit: "MB",
    bar: 1,
    better: "less",
    note: "in a process of its own, the middle of five looks after a collection each, array memory included",
    detail: { steps, grownBytes },
  };
}

function pageRow(root: string): Row {
  const size = firstLoad(root);
  const row = { id: "firstLoad", what: "first-load scripts, gzip", unit: "kB", bar: 200, better: "less" as const };
  if (!size)
    return { ...row, figure: null, note: "the page is not built: `npm start` or `npm test` first", detail: {} };
  const files = size.files.map((file) => `${file.name} ${(file.gzipBytes / 1000).toFixed(0)} kB`);
  return { ...row, figure: size.gzipBytes / 1000, note: files.join(", "), detail: { files: size.files } };
}

if (process.argv[2] === HEAP_CHILD) process.stdout.write(JSON.stringify(heapChild(Number(process.argv[3]))));
