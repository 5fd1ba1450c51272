import {
  atan2,
  BitHash,
  cbrt,
  cos,
  exp,
  fromSi,
  hashOfText,
  log,
  pow,
  quantityKinds,
  SeededDraws,
  sin,
  standardPressurePa,
  toSi,
  unitNames,
} from "@brakeyard/units";
import type { Workload } from "./workload.ts";

const ARGUMENTS = 20_000;

/** Fingerprint of a function over many drawn arguments. */
function over(name: string, f: (draws: SeededDraws) => number): Workload {
  const run = (): string => {
    const draws = new SeededDraws(name);
    const hash = new BitHash();
    for (let i = 0; i < ARGUMENTS; i += 1) hash.addNumber(f(draws));
    return hash.digest();
  };
  return { name, run };
}

/** Every unit, there and back. */
function conversions(): string {
  const draws = new SeededDraws("conversions");
  const hash = new BitHash();
  for (const kind of quantityKinds()) {
    for (const unit of unitNames(kind)) {
      hash.addText(unit);
      for (let i = 0; i < 50; i += 1) {
        const si = toSi(kind, draws.between(-1000, 1000), unit);
        hash.addNumber(si).addNumber(fromSi(kind, si, unit));
      }
    }
  }
  return hash.digest();
}

/** Everything in the units package. */
export const unitsWorkloads: readonly Workload[] = [
  over("exp", (draws) => exp(draws.between(-745, 709))),
  over("log", (draws) => log(exp(draws.between(-700, 700)))),
  over("pow", (draws) => pow(draws.between(0, 10), draws.between(-20, 20))),
  over("sin", (draws) => sin(draws.between(-1e6, 1e6))),
  over("cos", (draws) => cos(draws.between(-10, 10))),
  over("atan2", (draws) => atan2(draws.between(-1, 1), draws.between(-1, 1))),
  over("cbrt", (draws) => cbrt(draws.between(-1e9, 1e9))),
  over("atmosphere", (draws) => standardPressurePa(draws.between(-2000, 11000))),
  over("draws", (draws) => draws.below(1000) + draws.fraction()),
  { name: "conversions", run: conversions },
  { name: "text", run: () => hashOfText("Harrow Ridge: 12 \u00d7 reservoirs, 60 psi, \u{1f68c}") },
];
