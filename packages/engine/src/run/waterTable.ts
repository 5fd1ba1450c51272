import { smoothStep, smoothStepSlope } from "../numerics/smooth.ts";
import type { AirState } from "./airState.ts";
import { indexOf } from "./layout.ts";
import type { Plan } from "./plan.ts";

const WATER_DENSITY = 998;
/** Water film below which a drain passes air instead, m3. */
export const WATER_FILM_M3 = 2e-6;

interface FlatWater {
  readonly at: number;
  readonly node: number;
  readonly drain: number;
  readonly area: number;
  readonly byPressure: number;
  readonly byWater: number;
  readonly nodeByOwn: number;
  readonly nodeByWater: number;
}

/** Water in tanks: it leaves an open drain at Cd A sqrt(2 dp / rho), and the air takes its place. */
export class WaterTable {
  private readonly plan: Plan;
  private readonly waters: readonly FlatWater[];

  constructor(plan: Plan) {
    const { model, layout, positionOf } = plan;
    this.plan = plan;
    this.waters = model.waters.map((w, i) => {
      const at = layout.waterOf[i];
      return {
        at,
        node: w.node,
        drain: indexOf(layout, w.drain),
        area: w.drainAreaM2,
        byPressure: positionOf(at, w.node),
        byWater: positionOf(at, at),
        nodeByOwn: positionOf(w.node, w.node),
        nodeByWater: positionOf(w.node, at),
      };
    });
  }

  private rate(water: FlatWater, x: Float64Array): number {
    const open = x[water.drain];
    const head = x[water.node] - x[this.plan.layout.atmosphere];
    if (!(open > 0 && head > 0)) return 0;
    return -open * water.area * Math.sqrt((2 * head) / WATER_DENSITY) * smoothStep(x[water.at] / WATER_FILM_M3);
  }

  /** Adds to the rates; call after the nodes' own have been written. */
  addRates(x: Float64Array, f: Float64Array, air: AirState): void {
    for (let k = 0; k < this.waters.length; k++) {
      const water = this.waters[k];
      const rate = this.rate(water, x);
      f[water.at] = rate;
      const i = water.node;
      if (rate !== 0) f[i] += (air.exponent(i) * x[i] * rate) / air.volumeM3[i];
    }
  }

  addSlopes(x: Float64Array, f: Float64Array, air: AirState, jac: Float64Array): void {
    for (const water of this.waters) {
      const rate = f[water.at];
      if (rate === 0) continue;
      const i = water.node;
      const head = x[i] - x[this.plan.layout.atmosphere];
      const travel = x[water.at] / WATER_FILM_M3;
      const byPressure = rate / (2 * head);
      const byWater = ((rate / smoothStep(travel)) * smoothStepSlope(travel)) / WATER_FILM_M3;
      const gain = air.exponent(i) / air.volumeM3[i];
      jac[water.byPressure] += byPressure;
      jac[water.byWater] += byWater;
      jac[water.nodeByOwn] += gain * (rate + x[i] * byPressure);
      jac[water.nodeByWater] += gain * x[i] * byWater;
    }
  }
}
