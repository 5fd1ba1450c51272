import { describe, expect, it } from "vitest";
import { Discrete } from "../src/run/discrete.ts";
import { makePlan } from "../src/run/plan.ts";
import { startValues } from "../src/run/start.ts";
import { System } from "../src/run/system.ts";
import { everyPart, LIVELY_START } from "./everyPart.ts";

/** Largest mismatch between the analytic Jacobian and central differences, each entry scaled by its column's step. */
function worstMismatch(
  straight: boolean,
  isothermal: boolean,
  servicePa: number,
  springPa: number,
): { worst: number; where: string } {
  const plan = makePlan(everyPart(isothermal));
  const system = new System(plan, straight ? plan.make : undefined);
  const start = {
    nodes: {
      ...LIVELY_START.nodes,
      "rear.service": { gaugePressurePa: servicePa },
      "rear.spring": { gaugePressurePa: springPa },
    },
  };
  const x = startValues(plan, new Discrete(plan), start);
  system.refresh(x);
  const n = plan.layout.stateCount;
  const f = new Float64Array(n);
  const up = new Float64Array(n);
  const down = new Float64Array(n);
  const jac = new Float64Array(plan.pattern.rows.length);
  system.evaluate(x, f);
  system.jacobian(x, f, jac);
  const dense = new Map<number, number>();
  plan.pattern.rows.forEach((row, e) => {
    dense.set(row * n + plan.pattern.columns[e]!, jac[e]!);
  });
  let worst = 0;
  let where = "";
  for (let j = 0; j < n; j++) {
    const step = 1e-6 * Math.max(Math.abs(x[j]!), 1e-6);
    const y = x.slice();
    y[j] = x[j]! + step;
    system.evaluate(y, up);
    y[j] = x[j]! - step;
    system.evaluate(y, down);
    for (let i = 0; i < n; i++) {
      const numeric = (up[i]! - down[i]!) / (2 * step);
      const analytic = dense.get(i * n + j) ?? 0;
      const size = Math.max(Math.abs(numeric), Math.abs(analytic), (1e-6 * Math.abs(f[i]!)) / step, 1e-9);
      const error = Math.abs(numeric - analytic) / size;
      if (error > worst) {
        worst = error;
        where = `row ${i} column ${j}: analytic ${analytic}, difference ${numeric}`;
      }
    }
  }
  return { worst, where };
}

describe("Jacobian against central differences", () => {
  for (const straight of [false, true])
    for (const isothermal of [false, true]) {
      for (const [service, spring] of [
        [0.45e5, 3.6e5],
        [3e5, 6.5e5],
        [2e5, 0.1e5],
        [0.35e5, 4.55e5],
        [0.02e5, 4.4e5],
      ] as const) {
        it(`${straight ? "as code" : "from tables"}, ${isothermal ? "isothermal" : "with temperature"}, service ${service}, spring ${spring}`, () => {
          const { worst, where } = worstMismatch(straight, isothermal, service, spring);
          expect(worst, where).toBeLessThan(2e-4);
        });
      }
    }
});
