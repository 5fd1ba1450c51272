import type { Check, Comparison } from "../src/check.ts";
import { below, between, near } from "../src/compare.ts";
import { clause } from "./kinds.ts";
import { builtUp, type VehicleRig, type Yard } from "./yard.ts";

const VALVES = {
  text: "static characteristics of brake valves: crack, hysteresis and lag of each",
  seen: "from memory",
} as const;
const BUSES = ["bus-a", "harrow-ridge-12"] as const;
const ASKED = [20, 40, 60] as const;

const ready = (yard: Yard, bus: string) => yard(bus, { start: builtUp(120) }).wait(5);

function lapping(yard: Yard, bus: string, psi: number): Comparison[] {
  const rig = ready(yard, bus);
  rig.pedal(rig.travelFor(psi)).wait(5);
  const what = `${bus}, ${psi} psi asked`;
  const held = rig.psi("primaryDelivery");
  const flow = (channel: string) => Math.abs(rig.value(`flow.footValve.${channel}`)) * 60_000;
  rig.wait(60);
  const flows = ["primary", "secondary", "primary.exhaust", "secondary.exhaust"].map(flow);
  return [
    near({
      what: `${what}: primary delivery`,
      unit: "psi",
      got: held,
      expected: psi,
      within: 3,
      reason: "it regulates, within half of a hysteresis of up to 6 psi",
    }),
    below({
      what: `${what}: air still passing after a minute`,
      unit: "g/min",
      got: Math.max(...flows),
      bound: 0.5,
      reason: "it laps: both seats shut",
    }),
    near({
      what: `${what}: delivery a minute later, against then`,
      unit: "psi",
      got: rig.psi("primaryDelivery") - held,
      expected: 0,
      within: 0.5,
      reason: "lapped, it holds",
    }),
  ];
}

function makingUp(yard: Yard, bus: string): Comparison {
  const torn = { name: "torn", kind: "tornServiceDiaphragm", where: "front.left", size: { holeM: 0.001 } } as const;
  const rig = yard(bus, { start: builtUp(120), faults: [torn] })
    .wait(5)
    .break("torn");
  rig.pedal(rig.travelFor(40)).wait(5);
  const held = rig.psi("secondaryDelivery");
  rig.wait(60);
  return near({
    what: `${bus}, 40 psi asked, a 1 mm hole in a front chamber: secondary delivery a minute later, against then`,
    unit: "psi",
    got: rig.psi("secondaryDelivery") - held,
    expected: 0,
    within: 1,
    reason: "it makes up what leaks, while the tank falls",
  });
}

const e08a = (yard: Yard): Check =>
  clause({
    id: "E-08a",
    title: "A partial pedal regulates and laps",
    source: VALVES,
    problem:
      "Engine off. Pedal held part way for a minute: what is delivered, what still flows, and whether it stays. Then with a small hole behind the valve.",
    inputs: ["bus-a and harrow-ridge-12 from 120 psi (supply tank 121); 20, 40 and 60 psi asked"],
    run: () => ({
      comparisons: BUSES.flatMap((bus) => [...ASKED.flatMap((psi) => lapping(yard, bus, psi)), makingUp(yard, bus)]),
    }),
  });

const e08b = (yard: Yard): Check =>
  clause({
    id: "E-08b",
    title: "A full pedal equalises",
    source: VALVES,
    problem: "Engine off. Pedal to the floor for 5 s: each chamber against the tank that feeds it.",
    inputs: ["bus-a, harrow-ridge-12 and legal-minimum-bus from 120 and from 80 psi"],
    run: () => ({
      comparisons: [...BUSES, "legal-minimum-bus"].flatMap((bus) =>
        [120, 80].flatMap((psi) => {
          const rig = yard(bus, { start: builtUp(psi) })
            .wait(5)
            .pedal(1)
            .wait(5);
          return (
            [
              ["rear.left", "primary"],
              ["front.left", "secondary"],
            ] as const
          ).map(([chamber, tank]) =>
            between({
              what: `${bus} from ${psi} psi: ${chamber} chamber below the ${tank} tank`,
              unit: "psi",
              got: rig.psi(tank) - rig.psi(`${chamber}.service`),
              low: -0.5,
              high: 3,
              reason: "all but the crack pressure of a quick-release valve, 1 to 3 psi",
            }),
          );
        }),
      ),
    }),
  });

/** Presses from `from` to `to` in small steps, waiting at each; says what stands in a node at every step. */
function sweep(rig: VehicleRig, from: number, to: number, nodes: readonly string[]): number[][] {
  const step = from < to ? 0.001 : -0.001;
  const seen: number[][] = [];
  for (let i = 0; i <= Math.round((to - from) / step); i++) {
    rig.pedal(from + i * step).wait(0.5);
    seen.push(nodes.map((node) => rig.psi(node)));
  }
  return seen;
}

/** More than this for a thousandth of travel is the first jump and not graduation, psi. */
const STEEP = 0.3;

function cracking(yard: Yard, bus: string): Comparison[] {
  const seen = sweep(ready(yard, bus), 0.08, 0.18, ["primaryDelivery", "rear.left.service"]);
  const gained = (i: number) => seen[i + 1]![0]! - seen[i]![0]!;
  const opens = seen.findIndex(([delivery]) => delivery! > STEEP);
  let end = opens;
  while (gained(end) > STEEP) end += 1;
  const jump = seen[end]![0]!;
  const relay = seen.find(([, chamber]) => chamber! > 0.3)?.[0] ?? Number.NaN;
  return [
    between({
      what: `${bus}: first delivery, where the jump ends and graduation begins`,
      unit: "psi",
      got: jump,
      low: 3,
      high: 6,
      reason: "crack of a foot valve",
    }),
    below({
      what: `${bus}: delivery gained by as much travel further on`,
      unit: "psi",
      got: seen[2 * end - opens + 7]![0]! - seen[end + 5]![0]!,
      bound: jump / 2,
      reason: "after the jump it graduates",
    }),
    between({
      what: `${bus}: application pressure at which the rear relay first delivers`,
      unit: "psi",
      got: relay,
      low: 3,
      high: 6,
      reason: "crack of a relay, 3 to 5 psi; a psi for the slope of its seat",
    }),
  ];
}

const e08c = (yard: Yard): Check =>
  clause({
    id: "E-08c",
    title: "Crack pressure is there",
    source: VALVES,
    problem:
      "Engine off. The pedal goes down by a thousandth of its travel every half second, past the point at which it opens.",
    inputs: ["bus-a and harrow-ridge-12 from 120 psi (supply tank 121)"],
    run: () => ({ comparisons: BUSES.flatMap((bus) => cracking(yard, bus)) }),
  });

/** Delivery of both sections at one travel, reached slowly from above or below. */
function reached(
  yard: Yard,
  bus: string,
  psi: number,
  way: "pressing" | "easing",
): { primary: number; secondary: number } {
  const rig = ready(yard, bus);
  const travel = rig.travelFor(psi);
  const from = way === "pressing" ? travel - 0.1 : travel + 0.1;
  rig.pedal(from).wait(2);
  sweep(rig, from, travel, []);
  rig.wait(3);
  return { primary: rig.psi("primaryDelivery"), secondary: rig.psi("secondaryDelivery") };
}

const e08d = (yard: Yard): Check =>
  clause({
    id: "E-08d",
    title: "Hysteresis and the secondary's lag behind the primary are there",
    source: VALVES,
    problem:
      "Engine off. The same pedal position reached slowly from below and from above: the two deliveries. Their difference is the hysteresis; at the same pedal the secondary stands below the primary.",
    inputs: ["bus-a and harrow-ridge-12 from 120 psi (supply tank 121); positions for 30 and 60 psi"],
    run: () => ({
      comparisons: BUSES.flatMap((bus) =>
        [30, 60].flatMap((psi) => {
          const [up, down] = [reached(yard, bus, psi, "pressing"), reached(yard, bus, psi, "easing")];
          const what = `${bus} at ${psi} psi`;
          return [
            between({
              what: `${what}: primary hysteresis`,
              unit: "psi",
              got: down.primary - up.primary,
              low: 2,
              high: 6,
              reason: "foot valve",
            }),
            between({
              what: `${what}: secondary below primary, pressing`,
              unit: "psi",
              got: up.primary - up.secondary,
              low: 1,
              high: 3,
              reason: "foot valve",
            }),
            between({
              what: `${what}: secondary below primary, easing`,
              unit: "psi",
              got: down.primary - down.secondary,
              low: 0,
              high: 3,
              reason: "it lags either way, less when its own hysteresis helps",
            }),
          ];
        }),
      ),
    }),
  });

export const pedal = (yard: Yard): readonly Check[] => [e08a(yard), e08b(yard), e08c(yard), e08d(yard)];
