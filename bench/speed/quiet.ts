import { PSI, Simulation, type Statistics } from "@brakeyard/engine";
import { advance } from "./product.ts";
import { benchBus } from "./subjects.ts";

const HOUR_TICKS = 360_000;
const LEAK = { psiPerMinute: 2, atPsi: 100 };

export interface LeakDown {
  readonly statistics: Statistics;
  /** Gauge pressure of the leaking tank at the end, Pa: shows that something was going on. */
  readonly leftPa: number;
}

/** One hour standing with a slow leak, springs held off, engine stopped, nobody in the cab. */
export function leakDown(): LeakDown {
  const bus = benchBus({
    faults: [
      {
        kind: "leak",
        name: "slow",
        where: "primary",
        size: { ratePaPerS: (LEAK.psiPerMinute * PSI) / 60, atGaugePa: LEAK.atPsi * PSI },
      },
    ],
  });
  const start = bus.assembly.start({ otherTanksPa: 120 * PSI, parking: "in", loaded: false });
  const run = new Simulation(bus.model, { plan: bus.plan, start });
  for (const { control, value } of bus.assembly.faults) run.setControl({ tick: 0, control, value });
  advance(run, HOUR_TICKS);
  const at = bus.model.channels.findIndex((c) => c.id === "pressure.primary");
  return { statistics: run.statistics(), leftPa: run.sample()[at] as number };
}
