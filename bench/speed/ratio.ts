import { type Errors, errorsOf, errorsOfRungeKutta, recordProduct, reference } from "./accuracy.ts";
import { NO_TIME, plus, type Took, timed } from "./clock.ts";
import { lengthS, runProduct } from "./product.ts";
import { RungeKutta } from "./rungeKutta.ts";
import { type Session, shortFan } from "./session.ts";
import type { BenchSubject } from "./subjects.ts";

/** Pieces in which Runge-Kutta is timed, with one whole run of the product after each. */
const PIECES = 16;
/** Steps per 10 ms tick that are tried, up to a step no one would call long. */
const LADDER = [16, 20, 25, 32, 40, 50, 64, 80, 100, 128, 160, 200, 256, 320, 400];

export interface RungeKuttaResult {
  readonly stepS: number;
  /** The part of the session it ran. */
  readonly session: Session;
  /** What Runge-Kutta took for the whole session (scaled from the part), and the product, in the same minutes of the same machine. */
  readonly took: Took;
  readonly productTook: Took;
  readonly errors: Errors;
  /** The product's own errors on the same part, which Runge-Kutta had to keep. */
  readonly productErrors: Errors;
}

/**
 * Plain Runge-Kutta at its largest step that is stable and no less accurate than the product. The step is looked for on the short fan-down,
 * the stiffest part; with `whole`, it then has to prove itself on the whole session, which is also what is timed.
 */
export function fastestRungeKutta(
  subject: BenchSubject,
  session: Session,
  whole: boolean,
  say: (line: string) => void,
): RungeKuttaResult {
  const judged = whole ? session : shortFan(subject);
  say(`  reference run at 1e-9, ${lengthS(judged)} s of the vehicle`);
  const wanted = reference(subject, judged);
  const productErrors = errorsOf(recordProduct(subject, judged), wanted);
  const short = whole ? reference(subject, shortFan(subject)) : wanted;
  const keeps = (errors: Errors): boolean =>
    errors.pressure <= productErrors.pressure && errors.eventS <= productErrors.eventS;
  let steps = largestStep((n) => keeps(errorsOfRungeKutta(subject, short, n, productErrors.pressure)), say);
  for (;;) {
    say(`  Runge-Kutta over ${lengthS(judged)} s of the vehicle, ${steps} steps to a tick`);
    const errors = errorsOfRungeKutta(subject, wanted, steps, productErrors.pressure);
    if (keeps(errors)) {
      return {
        stepS: 0.01 / steps,
        session: judged,
        ...timeBoth(subject, session, judged, steps),
        errors,
        productErrors,
      };
    }
    steps = Math.ceil(steps * 1.04);
  }
}

/**
 * Times both by turns: Runge-Kutta is too slow to be run many times, and if it met busier minutes than the product did, the ratio would be
 * that of the minutes.
 */
function timeBoth(subject: BenchSubject, session: Session, judged: Session, steps: number) {
  const run = new RungeKutta(subject, judged, steps);
  let took = NO_TIME;
  let product = NO_TIME;
  for (let piece = 1; piece <= PIECES; piece++) {
    const tick = Math.floor((judged.ticks * piece) / PIECES);
    took = plus(
      took,
      timed(() => {
        run.advanceTo(tick);
      }),
    );
    product = plus(
      product,
      timed(() => {
        runProduct(subject, session);
      }),
    );
  }
  return { took: times(took, session.ticks / judged.ticks), productTook: times(product, 1 / PIECES) };
}

function times({ cpuMs, wallMs }: Took, factor: number): Took {
  return { cpuMs: cpuMs * factor, wallMs: wallMs * factor };
}

/** Fewest steps to a tick that will do: up the ladder, then between its last two rungs. */
function largestStep(fits: (steps: number) => boolean, say: (line: string) => void): number {
  const at = LADDER.findIndex((n) => {
    say(`  trying ${n} steps to a tick`);
    return fits(n);
  });
  if (at < 0) throw new Error("no step of plain Runge-Kutta is as accurate as the product");
  let good = LADDER[at] as number;
  let bad = at === 0 ? 1 : (LADDER[at - 1] as number);
  while (good - bad > Math.max(1, 0.02 * good)) {
    const middle = Math.floor((good + bad) / 2);
    if (fits(middle)) good = middle;
    else bad = middle;
  }
  return good;
}
