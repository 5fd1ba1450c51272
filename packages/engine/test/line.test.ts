import { describe, expect, it } from "vitest";
import {
  addLine,
  endVolumeM3,
  lineVolumeM3,
  mix,
  Network,
  PSI,
  REFERENCE_DENSITY,
  Simulation,
  SOUND_SPEED,
  tubeFlow,
} from "../src/index.ts";

const END_M3 = 0.5e-3;
const STEP_PA = 100 * PSI;

/** Time until the far end of a line, with a chamber's half litre on it, holds a tenth of the step at its near end. */
function arrival(lengthM: number, boreM: number): number {
  const net = new Network({ ambient: { pressurePa: 101325, temperatureK: 293.15 } });
  const source = net.volume("source", { volumeM3: 10, heat: { kind: "constant", conductanceWPerK: 0 } });
  const end = net.line("end", { volumeM3: END_M3 + endVolumeM3({ lengthM, boreM }) / 2 });
  addLine(net, "line", { from: source, to: end }, { lengthM, boreM });
  net.watch({
    id: "tenth",
    mix: mix(-101325 - STEP_PA / 10, [end.pressure, 1]),
    risingText: "here",
    fallingText: "gone",
  });
  const run = new Simulation(net.compile(), { start: { nodes: { source: { gaugePressurePa: STEP_PA } } } });
  run.advanceTo(200);
  return run.takeEvents()[0]?.timeS ?? Number.NaN;
}

/** Length over the speed of sound, and then filling a tenth through the whole line's choked conductance. */
function expected(lengthM: number, boreM: number): number {
  const flow = tubeFlow({ lengthM, boreM }).conductance * REFERENCE_DENSITY * (STEP_PA + 101325);
  const mass = ((lineVolumeM3({ lengthM, boreM }) + END_M3) * STEP_PA) / 10 / (287.05 * 293.15);
  return lengthM / SOUND_SPEED + mass / flow;
}

describe("a line", () => {
  for (const boreM of [0.0095, 0.0127]) {
    for (const lengthM of [3, 10, 20]) {
      it(`of ${lengthM} m, ${boreM * 1000} mm: the first tenth arrives when sound and filling say, within 20 %`, () => {
        const ratio = arrival(lengthM, boreM) / expected(lengthM, boreM);
        expect(ratio).toBeGreaterThan(0.8);
        expect(ratio).toBeLessThan(1.2);
      });
    }
  }

  it("has the conductance published for a tube", () => {
    // [ISO6358] annex, table as printed: dm3/(s bar)
    for (const [boreM, lengthM, printed] of [
      [0.0095, 2, 7.6],
      [0.0095, 5, 5.6],
      [0.0095, 10, 4.2],
      [0.0127, 5, 11.4],
      [0.0127, 10, 8.8],
    ]) {
      expect(tubeFlow({ lengthM, boreM }).conductance * 1e8).toBeCloseTo(printed, 0.5);
    }
  });
});
