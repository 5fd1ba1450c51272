import { atan2, cbrt, cos, exp, log, pow, SeededDraws, sin } from "@brakeyard/units";
import { bigAtan2, bigCos, bigExp, bigLog, bigOf, bigSin, type Scaled, ulpsBetween } from "./bigReal.ts";
import type { Figure, Proof, ProofTools } from "./proof.ts";

/** How many arguments a part draws at the usual size. */
const TRIALS = 200_000;

/** One draw: what came out, and what should have. */
interface Trial {
  readonly got: number;
  readonly exact: Scaled;
}

interface Sweep {
  /** Largest error that the function's doc comment allows, units in the last place. */
  readonly stated: number;
  trial(draws: SeededDraws): Trial;
}

function whole(value: bigint): Scaled {
  return { value, exponent: 0 };
}

/** A number whose logarithm is evenly spread. */
function spread(draws: SeededDraws, from: number, to: number): number {
  return exp(draws.between(from, to));
}

const sweeps: Readonly<Record<string, Sweep>> = {
  exp: {
    stated: 1,
    trial: (draws) => {
      const x = draws.between(-700, 700);
      return { got: exp(x), exact: bigExp(bigOf(x)) };
    },
  },
  log: {
    stated: 0.51,
    trial: (draws) => {
      const x = draws.below(2) === 0 ? spread(draws, -700, 700) : draws.between(0.5, 2);
      return { got: log(x), exact: whole(bigLog(x)) };
    },
  },
  pow: {
    stated: 1,
    trial: (draws) => {
      const x = spread(draws, -50, 50);
      const y = draws.between(-13, 13);
      return { got: pow(x, y), exact: bigExp((bigLog(x) * bigOf(y)) >> 256n) };
    },
  },
  sin: {
    stated: 1,
    trial: (draws) => {
      const x = draws.below(2) === 0 ? draws.between(-10, 10) : draws.between(-1e6, 1e6);
      return { got: sin(x), exact: whole(bigSin(bigOf(x))) };
    },
  },
  cos: {
    stated: 1,
    trial: (draws) => {
      const x = draws.below(2) === 0 ? draws.between(-10, 10) : draws.between(-1e6, 1e6);
      return { got: cos(x), exact: whole(bigCos(bigOf(x))) };
    },
  },
  atan2: {
    stated: 1,
    trial: (draws) => {
      const y = draws.between(-1, 1);
      const x = draws.below(2) === 0 ? draws.between(-1, 1) : draws.between(-20, 20);
      return { got: atan2(y, x), exact: whole(bigAtan2(bigOf(y), bigOf(x))) };
    },
  },
  cbrt: {
    stated: 0.6,
    trial: (draws) => {
      const x = spread(draws, -300, 300);
      return { got: cbrt(x), exact: bigExp(bigLog(x) / 3n) };
    },
  },
};

function largestError(sweep: Sweep, name: string, tools: ProofTools): number {
  const draws = new SeededDraws(`${tools.seed} ${name}`);
  const trials = Math.ceil(TRIALS * tools.scale);
  let worst = 0;
  for (let i = 0; i < trials; i += 1) {
    const { got, exact } = sweep.trial(draws);
    worst = Math.max(worst, ulpsBetween(got, exact));
    if (i % 1000 === 0) tools.progress(i / trials);
  }
  return worst;
}

/** The exact functions against slow arithmetic with 256 bits. */
export const exactmath: Proof = {
  name: "exactmath",
  claim:
    "Every function of exactmath keeps the error that it states, over drawn arguments, against 256-bit arithmetic.",
  parts: Object.keys(sweeps),
  run: (part, tools): readonly Figure[] => {
    const sweep = sweeps[part];
    if (!sweep) throw new Error(`exactmath has no part called ${part}`);
    return [
      { name: `largest error of ${part}`, value: largestError(sweep, part, tools), unit: "ulp", limit: sweep.stated },
    ];
  },
};
