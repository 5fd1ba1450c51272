import { PSI } from "@brakeyard/engine";
import type { Check, Comparison } from "../src/check.ts";
import { above, between, near, rising } from "../src/compare.ts";
import { timeBelow } from "../src/rig.ts";
import { clause, mean, psiText } from "./kinds.ts";
import { AT_THE_END, builtUp, type VehicleRig, type Yard } from "./yard.ts";

const BUSES = ["harrow-ridge-12", "bus-a"] as const;
const PRESSES = 6;

/** Lowest a trace goes below where it began, psi (0 or less). */
function lowest(trace: { readonly values: readonly number[] }): number {
  return (Math.min(...trace.values) - trace.values[0]!) / PSI;
}

function pressAndRelease(yard: Yard, bus: string, psi: number | "full"): Comparison[] {
  const rig = yard(bus, { start: builtUp(120) });
  rig.wait(5).pedal(psi === "full" ? 1 : rig.travelFor(psi));
  const how = `${bus}, ${psi === "full" ? "full press" : `press to ${psi} psi`}`;
  const down = rig.record(["pressure.primary", "gauge.primary", "gauge.secondary"], 3);
  const up = rig
    .pedal(0)
    .record(["pressure.primary", "pressure.secondary", "gauge.primary", "gauge.secondary"], 30, 0.05);
  const needles = ["primary", "secondary"] as const;
  return [
    ...needles.map((one) =>
      between({
        what: `${how}: ${one} needle while the pedal goes down`,
        unit: "psi",
        got: lowest(down[`gauge.${one}`]),
        low: psi === "full" ? -12 : -3.5,
        high: psi === "full" ? -4.5 : -0.5,
        reason: "it falls at once; 5 to 11 psi for a full press of an ordinary vehicle, 1 to 3 for a light one",
      }),
    ),
    between({
      what: `${how}: time from pedal to half of the fall of the primary tank`,
      unit: "s",
      got: timeBelow(
        down["pressure.primary"],
        (down["pressure.primary"].values[0]! + Math.min(...down["pressure.primary"].values)) / 2,
      ),
      low: 0,
      high: 0.5,
      reason: "the fall belongs to the application: chambers fill in under half a second",
    }),
    ...needles.flatMap((one) => [
      above({
        what: `${how}: lowest of the ${one} tank in 30 s after release, against the moment of release`,
        unit: "psi",
        got: lowest(up[`pressure.${one}`]),
        bound: -0.02,
        reason:
          "air that leaves the chambers does not come from the tank; 0.02 psi is for the last air of lapping valves",
      }),
      above({
        what: `${how}: lowest of the ${one} needle in 30 s after release, against the moment of release`,
        unit: "psi",
        got: lowest(up[`gauge.${one}`]),
        bound: -0.1,
        reason: "a needle marked in whole psi must not step down",
      }),
    ]),
  ];
}

const e01a = (yard: Yard): Check =>
  clause({
    id: "E-01a",
    title: "Needles fall while the brake is being applied, never because it is released",
    problem:
      "Engine off, parking brake released. Press, hold 3 s, let go, look for 30 s: the needles and the tanks themselves. Above 70 psi: below that the springs begin to move and take a little air back on release.",
    inputs: ["harrow-ridge-12 and bus-a from 120 psi (supply tank 121), pedal full and at 30 psi"],
    run: () => ({
      comparisons: BUSES.flatMap((bus) => [...pressAndRelease(yard, bus, "full"), ...pressAndRelease(yard, bus, 30)]),
    }),
  });

/** Rise of the primary tank from 0.5 s to 60 s after a press of 1 s, psi. */
function creep(rig: VehicleRig): { psi: number; kelvin: number; supply: number } {
  rig.wait(5).press(1, 1, 0.5);
  const before = { psi: rig.psi("primary"), kelvin: rig.value("temperature.primary"), supply: rig.psi("supply") };
  rig.wait(59.5);
  return {
    psi: rig.psi("primary") - before.psi,
    kelvin: rig.value("temperature.primary") - before.kelvin,
    supply: rig.psi("supply") - before.supply,
  };
}

function creepOf(yard: Yard, bus: string) {
  const whole = creep(yard(bus, { start: builtUp(120) }));
  const alone = creep(
    yard(bus, { start: { tanks: { supply: { gaugePa: 0 } }, otherTanksPa: 120 * PSI, parking: "in" } }),
  );
  // Without the supply tank's air the press cools the service tank more; at wall temperature only the supply tank feeds.
  const fed = yard(bus, { start: builtUp(120), isothermal: true });
  const before = fed.wait(5).psi("supply");
  const atOnce = fed.pedal(1).wait(0.1).psi("supply");
  const fallAtOnce = before - atOnce;
  const feeds = fed.pedal(0).wait(60);
  return { whole, alone, late: before - feeds.psi("supply") - fallAtOnce };
}

const e01b = (yard: Yard): Check =>
  clause({
    id: "E-01b",
    title: "After a quick application the needles creep back",
    problem:
      "Engine off. A full press of 1 s; the primary tank from 0.5 s to 60 s after letting go. Then the two causes apart: with the supply tank empty only warming is left; with all air held at wall temperature only the feed through the check valve.",
    inputs: ["harrow-ridge-12 and bus-a from 120 psi (supply tank 121)"],
    run() {
      const seen = BUSES.map((bus) => ({ bus, ...creepOf(yard, bus) }));
      return {
        comparisons: seen.flatMap(({ bus, whole, alone, late }) => [
          between({
            what: `${bus}: creep back`,
            unit: "psi",
            got: whole.psi,
            low: 0.5,
            high: 3.5,
            reason: "a little: one or two divisions of the gauge",
          }),
          above({
            what: `${bus}: warming of the tank air meanwhile`,
            unit: "K",
            got: whole.kelvin,
            bound: 1,
            reason: "it was cooled by expanding",
          }),
          above({
            what: `${bus}: creep with the supply tank empty, from warming alone`,
            unit: "psi",
            got: alone.psi,
            bound: 0.5,
            reason: "warming is one cause",
          }),
          above({
            what: `${bus}: fall of the supply tank after the first 0.1 s, all air at wall temperature`,
            unit: "psi",
            got: late,
            bound: 0.5,
            reason: "feeding through the check valves is the other cause",
          }),
        ]),
        beside: seen.map(
          ({ bus, whole }) => `${bus}: the supply tank ends ${psiText(whole.supply)} higher: it too had cooled`,
        ),
      };
    },
  });

/** Absolute pressures of the primary tank before each of several presses of 2 s and after the last, each read some time after. */
function presses(rig: VehicleRig, travel: number, afterS: number): number[] {
  rig.wait(afterS);
  const read = [rig.absolutePsi("primary")];
  for (let i = 0; i < PRESSES; i++) {
    rig.press(travel, 2, afterS);
    read.push(rig.absolutePsi("primary"));
  }
  return read;
}

const dropsOf = (read: readonly number[]) => read.slice(1).map((p, i) => read[i]! - p);
const sharesOf = (read: readonly number[]) => read.slice(1).map((p, i) => 100 * (1 - p / read[i]!));

/** Each value near the mean of all; one comparison, for the farthest. */
function alike(what: string, unit: string, values: readonly number[], within: number, reason: string): Comparison {
  const middle = mean(values);
  const got = values.reduce((far, v) => (Math.abs(v - middle) > Math.abs(far - middle) ? v : far), middle);
  const list = values.map((v) => v.toFixed(2)).join(", ");
  return near({ what: `${what} (${list}): farthest from their mean`, unit, got, expected: middle, within, reason });
}

function smaller(what: string, drops: readonly number[]): Comparison {
  const losses = drops.map((d) => -d);
  return rising({
    what: `${what}: drops, each smaller than the last`,
    unit: "psi",
    values: losses,
    reason: "the same share of less",
  });
}

const SETTLED_S = 600;

const e01c = (yard: Yard): Check =>
  clause({
    id: "E-01c",
    title: "Full presses each take the same share of absolute pressure",
    source: {
      text: "derived: P' = (P V + Patm Vdead) / (V + Vdead + A s), absolute, for each full press and release",
      seen: "derived",
    },
    problem:
      "Engine off. Six full presses of 2 s. With every rod at the end of its chamber the volume taken is the same each time, so the share is too: read ten minutes after each, when the air has settled, and 30 s after each, as in the yard, when part of the cooling of this press and of the one before is still there. With rods where adjusters hold them the stroke shortens with pressure and the share goes with it.",
    inputs: [
      "bus-a from 120 psi (supply tank 121); every rod at the end of its chamber, then free strokes of the file",
    ],
    run() {
      const stop = { start: builtUp(120), freeStrokesM: AT_THE_END };
      const settled = presses(yard("bus-a", stop), 1, SETTLED_S);
      const yardTime = presses(yard("bus-a", stop), 1, 30);
      const usual = presses(yard("bus-a", { start: builtUp(120) }), 1, 30);
      const early = sharesOf(yardTime);
      return {
        comparisons: [
          alike("rods at the end, settled: shares", "%", sharesOf(settled), 0.1, "the same volume each time"),
          alike(
            "rods at the end, 30 s: shares",
            "%",
            early,
            0.25 * mean(early),
            "cooling still there, a quarter at most",
          ),
          smaller("rods at the end, settled", dropsOf(settled)),
          smaller("rods at the end, 30 s", dropsOf(yardTime)),
          smaller("rods as adjusted, 30 s", dropsOf(usual)),
        ],
      };
    },
  });

const e01d = (yard: Yard): Check =>
  clause({
    id: "E-01d",
    title: "Presses to the same partial pressure each take about the same psi",
    problem:
      "Engine off. Six presses of 2 s to the same delivery, each read ten minutes after letting go, and 30 s after as in the yard.",
    inputs: ["harrow-ridge-12 and bus-a from 120 psi (supply tank 121); 20 and 40 psi delivered"],
    run: () => ({
      comparisons: BUSES.flatMap((bus) =>
        [20, 40].flatMap((psi) => {
          const drops = (afterS: number) => {
            const rig = yard(bus, { start: builtUp(120) });
            return dropsOf(presses(rig, rig.travelFor(psi), afterS));
          };
          const reason = "closer than a needle marked in psi can tell";
          return [
            alike(`${bus}, ${psi} psi, settled: drops`, "psi", drops(SETTLED_S), 0.1, "the same air each time"),
            alike(`${bus}, ${psi} psi, 30 s: drops`, "psi", drops(30), 0.5, reason),
          ];
        }),
      ),
    }),
  });

export const needles = (yard: Yard): readonly Check[] => [e01a(yard), e01b(yard), e01c(yard), e01d(yard)];
