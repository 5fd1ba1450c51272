import { PSI } from "@brakeyard/engine";
import type { FaultSpec } from "@brakeyard/vehicle";
import { describe, expect, it, vi } from "vitest";
import { runCheck } from "../src/check.ts";
import { expertChecksIn } from "./index.ts";
import { type Edit, honestYard, type Raw, type Setup, type VehicleRig, type Yard } from "./yard.ts";

vi.setConfig({ testTimeout: 120_000 });

/** A yard in which every vehicle comes in with something changed. */
function changed(change: (setup: Setup) => Setup): Yard {
  return (who, setup = {}) => honestYard(who, change(setup));
}

/** A yard in which every vehicle that can have it has a fault, on from the start. */
function broken(...faults: readonly FaultSpec[]): Yard {
  return (who, setup = {}) => {
    const rig = honestYard(who, { ...setup, faults: [...(setup.faults ?? []), ...faults] });
    for (const { name } of faults) rig.break(name);
    return rig;
  };
}

/** A yard in which the files are written otherwise. */
function written(edit: Edit): Yard {
  return changed((setup) => ({
    ...setup,
    edit: (file) => {
      setup.edit?.(file);
      edit(file);
    },
  }));
}

/** A yard in which faults asked for never come on. */
const nothingBreaks: Yard = (who, setup = {}) => {
  const rig = honestYard(who, setup);
  rig.break = function (this: VehicleRig) {
    return this;
  };
  return rig;
};

const psi = (value: number) => ({ value, unit: "psi", from: "plate" });
const put = (part: Raw, values: object) => Object.assign(part, values);
const air = (file: Raw) => file["air"]!;

const smallTanks = written((file) => {
  for (const tank of Object.values(air(file)["reservoirs"]!)) {
    const { volume } = tank as unknown as { volume: { value: number } };
    volume.value *= 0.6;
  }
});

const switchesAt45: readonly FaultSpec[] = ["primary", "secondary"].map((where) => ({
  name: `low ${where}`,
  kind: "lowAirSwitchLow",
  where,
  closesBelowPa: 45 * PSI,
}));

/** What is wrong, the yard it is wrong in, and the checks that must see it. */
const WRONG: readonly (readonly [string, Yard, readonly string[]])[] = [
  [
    "a relay whose exhaust leaks",
    broken({ name: "relay", kind: "relayExhaustLeaks", where: "rear", holeM: 0.003 }),
    ["E-01a"],
  ],
  ["air that never warms or cools", changed((setup) => ({ ...setup, isothermal: true })), ["E-02b", "E-05a"]],
  ["tanks of 7 x instead of 12 x", smallTanks, ["E-02a"]],
  [
    "a check valve that lets air back into the supply tank",
    broken({ name: "valve", kind: "checkValveStuckOpen", where: "primary" }),
    ["E-03b", "E-10a"],
  ],
  ["faults that do nothing", nothingBreaks, ["E-03a", "E-04a", "E-06c"]],
  [
    "a pin-hole in a tank",
    broken({ name: "pin-hole", kind: "leak", where: "primary", size: { holeM: 0.0003 } }),
    ["E-05b"],
  ],
  ["low-air switches set at 45 psi", broken(...switchesAt45), ["E-07a"]],
  [
    "weak power springs",
    written((file) => {
      const force = { value: 1100, unit: "lbf", from: "plate" };
      for (const axle of Object.values(file["axles"]!)) put(axle["brakes"]!, { springForce: force });
    }),
    ["E-07b"],
  ],
  ["a parking control that sticks", broken({ name: "stuck", kind: "parkingControlSticks" }), ["E-07c"]],
  [
    "a foot valve without crack pressure or hysteresis",
    written((file) => put(air(file)["footValve"]!, { crack: psi(0.5), hysteresis: psi(0.5) })),
    ["E-08c", "E-08d"],
  ],
  [
    "a relay that opens 20 psi late",
    broken({ name: "relay", kind: "relayCracksHigh", where: "rear", byPa: 20 * PSI }),
    ["E-08b"],
  ],
  [
    "a safety valve set far too high",
    written((file) => {
      for (const tank of Object.values(air(file)["reservoirs"]!)) {
        if (tank["safetyValve"]) put(tank, { safetyValve: { opens: psi(200) } });
      }
    }),
    ["E-09c"],
  ],
  ["anti-compounding that has failed", broken({ name: "failed", kind: "antiCompoundingFailed" }), ["E-11b"]],
  [
    "no modulating valve",
    written((file) => {
      delete air(file)["parking"]!["springBrakeModulatingValve"];
    }),
    ["E-12a"],
  ],
  [
    "a protection valve that stays open",
    broken({ name: "valve", kind: "protectionValveStuckOpen", where: "tractorProtection" }),
    ["E-13b"],
  ],
  ["hoses that were not crossed", nothingBreaks, ["E-13c"]],
  [
    "a hand valve that gives 20 psi",
    written((file) => put(air(file)["trailerConnection"]!["handValve"]!, { fullPressure: psi(20) })),
    ["E-13d"],
  ],
  ["sea-level air at any height", changed(({ surroundings: _, ...setup }) => setup), ["E-14c"]],
  [
    "a low-air switch that feels absolute pressure",
    changed((setup) => {
      const missing = 101325 - (setup.surroundings?.pressurePa ?? 101325);
      const edit: Edit = (file) => put(air(file)["warning"]!["lowAir"]!, { closesBelow: psi(60 + missing / PSI) });
      return { ...setup, edit };
    }),
    ["E-14b"],
  ],
];

describe("something wrong is seen", () => {
  it.each(WRONG)("%s", (_, yard, ids) => {
    const checks = expertChecksIn(yard).filter((check) => ids.includes(check.id));
    const seen = checks.map((check) => runCheck(check, () => 0)).filter((result) => !result.ok);
    expect(seen.map((result) => result.id)).toEqual(ids);
    for (const { id, comparisons, disagreement } of seen) {
      expect(
        comparisons.some((one) => !one.ok),
        `${id} is red for a reason of its own: ${disagreement}`,
      ).toBe(true);
    }
  });
});
