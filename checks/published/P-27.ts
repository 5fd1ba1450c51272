import type { Check } from "../src/check.ts";
import { atMost } from "../src/compare.ts";
import { standing } from "../src/yard-tools.ts";

/** Loss of a service tank in ten minutes after the supply tank has been opened to the air, psi. */
function lossPsi(failed: boolean): number {
  const stuck = { kind: "checkValveStuckOpen", name: "check", where: "primary" } as const;
  const yard = standing("default-bus", 120, { faults: [stuck] });
  if (failed) yard.breakIt("check");
  yard.wait(10);
  const before = yard.psi("primary");
  yard.set("drain.supply", 1).wait(600);
  return before - yard.psi("primary");
}

export const p27: Check = {
  id: "P-27",
  title: "A check valve with its upstream side lost",
  kind: "published case",
  source: { text: "NHTSA interpretation aiam2670", seen: "read" },
  problem: "The supply tank is opened to the air. What the service tank behind its check valve loses in ten minutes.",
  inputs: ["default bus, 120 psi, engine off, springs off, supply drain wide open"],
  run: () => ({
    comparisons: [
      atMost({
        what: "loss of the primary tank in 10 min",
        unit: "psi",
        got: lossPsi(false),
        limit: 10,
        ordinary: {
          low: 0,
          high: 10,
          source: "the same letter: up to 10 psi is accepted; a sound valve loses next to nothing",
        },
      }),
    ],
    beside: [`with that check valve stuck open it loses ${lossPsi(true).toFixed(0)} psi`],
    disagreement: "The model's check valve shuts without any leak, so a good figure here says only that it shuts.",
  }),
};
