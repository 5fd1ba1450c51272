import { PSI } from "@brakeyard/engine";
import { fromSi } from "@brakeyard/units";
import type { Check, Comparison } from "../src/check.ts";
import { above, between, near } from "../src/compare.ts";
import { clause, psiText, so } from "./kinds.ts";
import { builtUp, type VehicleRig, type Yard } from "./yard.ts";

const BUSES = ["bus-a", "harrow-ridge-12"] as const;
const OTHER = { primary: "secondary", secondary: "primary" } as const;
type Circuit = keyof typeof OTHER;
/** A quarter inch: a service line off its fitting. */
const BURST_M = 0.00635;

/** Travel at which a slowly pressed pedal first gives 20 psi in a circuit. */
function travelTo20(rig: VehicleRig, circuit: Circuit): number {
  for (let travel = 0.1; travel < 1; travel += 0.005) {
    rig.pedal(travel).wait(0.3);
    if (rig.psi(`${circuit}Delivery`) >= 20) return travel;
  }
  return Number.NaN;
}

function drained(yard: Yard, bus: string, lost: Circuit): Comparison[] {
  const left = OTHER[lost];
  const rig = yard(bus, { start: builtUp(120, { key: 1 }) }).wait(5);
  const before = rig.psi(left);
  rig.set(`drain.${lost}`, 1).wait(120);
  const what = `${bus}, ${lost} drained`;
  const seen = [
    near({
      what: `${what}: its gauge`,
      unit: "psi",
      got: rig.gauge(lost),
      expected: 0,
      within: 1,
      reason: "it is empty",
    }),
    so(`${what}: warning lamp lit`, rig.on("lamp.lowAir"), true, "each circuit has its switch"),
    so(`${what}: buzzer sounds`, rig.on("buzzer.lowAir"), true, "each circuit has its switch"),
    near({
      what: `${what}: what the ${left} tank lost in two minutes`,
      unit: "psi",
      got: before - rig.psi(left),
      expected: 0,
      within: 0.5,
      reason: "its check valve holds it",
    }),
    so(
      `${what}: parking control still in`,
      rig.on("control.parking"),
      true,
      "it lives on the better of the two circuits",
    ),
  ];
  const healthy = travelTo20(yard(bus, { start: builtUp(120) }).wait(5), left);
  const further = travelTo20(rig, left) - healthy;
  return [
    ...seen,
    between({
      what: `${what}: further travel of the pedal to 20 psi in the ${left} circuit (healthy at ${healthy.toFixed(3)})`,
      unit: "of travel",
      got: further,
      low: lost === "primary" ? 0.02 : -0.02,
      high: lost === "primary" ? 0.2 : 0.02,
      reason:
        lost === "primary"
          ? "the secondary is now pushed by hand, so the pedal goes further down, and works"
          : "the primary needs no help",
    }),
  ];
}

const e06a = (yard: Yard): Check =>
  clause({
    id: "E-06a",
    title:
      "One circuit drained to zero: warning on, the other holds, the control stays in, the pedal still works further down",
    problem:
      "Key on, engine off, parking brake released. One service tank's drain is opened; two minutes later the pedal goes slowly down.",
    inputs: ["bus-a and harrow-ridge-12 from 120 psi (supply tank 121), each circuit in turn"],
    run: () => ({
      comparisons: BUSES.flatMap((bus) => [...drained(yard, bus, "primary"), ...drained(yard, bus, "secondary")]),
    }),
  });

interface Fanned {
  /** Healthy tank when fanning ends, a minute later, and four minutes after that, psi. */
  readonly low: number;
  readonly early: number;
  readonly late: number;
  /** Its air at the end over that when fanning ended. */
  readonly air: number;
}

/** Fans the healthy circuit down with the engine running and leaves it to itself for five minutes. */
function afterFanning(rig: VehicleRig, healthy: string, downTo: number): Fanned {
  for (let i = 0; i < 40 && rig.psi(healthy) > downTo; i++) rig.press(1, 1, 0.5);
  const low = rig.psi(healthy);
  const airThen = rig.wait(10).absolutePsi(healthy) / rig.value(`temperature.${healthy}`);
  const early = rig.wait(50).psi(healthy);
  const late = rig.wait(240).psi(healthy);
  return { low, early, late, air: rig.absolutePsi(healthy) / rig.value(`temperature.${healthy}`) / airThen };
}

function plainBurst(yard: Yard, bus: string, lost: Circuit | "none") {
  const rpm = yard(bus).assembly.speedsRpm!.fastIdle;
  const faults = lost === "none" ? [] : [{ name: "burst", kind: "burst", where: lost, boreM: BURST_M } as const];
  const rig = yard(bus, { start: builtUp(120, { engineRpm: rpm }), faults }).wait(5);
  if (lost !== "none") rig.break("burst").wait(30);
  return { ...afterFanning(rig, lost === "none" ? "primary" : OTHER[lost], 75), supply: rig.psi("supply") };
}

const e06b = (yard: Yard): Check =>
  clause({
    id: "E-06b",
    title: "One circuit burst with the engine running: a plain two-tank vehicle cannot refill the healthy circuit",
    problem:
      "Engine at fast idle, a quarter-inch hole in one service tank. The healthy circuit is fanned down to 75 psi and watched for five minutes. The air takes the open way out. The same without the burst, for comparison.",
    inputs: ["bus-a and harrow-ridge-12 from 120 psi (supply tank 121), each circuit in turn"],
    run() {
      const burst = BUSES.flatMap((bus) =>
        (["primary", "secondary"] as const).map((lost) => ({
          what: `${bus}, ${lost} burst`,
          ...plainBurst(yard, bus, lost),
        })),
      );
      const whole = BUSES.map((bus) => ({ bus, ...plainBurst(yard, bus, "none") }));
      return {
        comparisons: [
          ...burst.flatMap(({ what, air, supply }) => [
            between({
              what: `${what}: air in the healthy tank after five minutes, over that 10 s after fanning`,
              unit: "",
              got: air,
              low: 0.97,
              high: 1.001,
              reason: "none reaches it; a little goes on into spring chambers as their air cools",
            }),
            between({
              what: `${what}: supply tank`,
              unit: "psi",
              got: supply,
              low: -0.1,
              high: 45,
              reason: "it stands no higher than the hole lets it",
            }),
          ]),
          ...whole.map(({ bus, low, late }) =>
            above({
              what: `${bus}, whole: refilled from ${psiText(low)} to`,
              unit: "psi",
              got: late,
              bound: 95,
              reason: "else the comparison proves nothing",
            }),
          ),
        ],
        beside: burst.map(
          ({ what, low, early, late }) =>
            `${what}: fanned to ${psiText(low)}, ${psiText(early)} a minute later, ${psiText(late)} after five: air cooled by hard fanning warms, and no more`,
        ),
      };
    },
  });

const bar = (psi: number) => fromSi("pressure", psi * PSI, "bar");

const e06c = (yard: Yard): Check =>
  clause({
    id: "E-06c",
    title: "One with a multi-circuit protection valve refills it to that valve's closing pressure",
    problem:
      "Key on, compressor running, a quarter-inch hole in one service tank. The healthy circuit is fanned down to 5.9 bar and watched for five minutes. The seat of the burst circuit, with nothing behind it, shuts when the source falls to what opens it empty; that is what the others are filled to.",
    inputs: ["harrow-ridge-electric from 10 bar, opening pressure of both service circuits 7.0 bar as its file says"],
    run() {
      const seen = (["primary", "secondary"] as const).map((lost) => {
        const start = { otherTanksPa: 10e5, parking: "in", key: 1 } as const;
        const rig = yard("harrow-ridge-electric", {
          start,
          faults: [{ name: "burst", kind: "burst", where: lost, boreM: BURST_M }],
        });
        rig.wait(5).break("burst").wait(30);
        const held = rig.psi(OTHER[lost]);
        const circuit = lost === "primary" ? "circuit21" : "circuit22";
        const shuts = rig.power.multiCircuit!.circuits.find((one) => one.id === circuit)!.values.opens.si / PSI;
        return {
          lost,
          held,
          shuts,
          ...afterFanning(rig, OTHER[lost], 86),
          lit: rig.on("lamp.lowAir"),
          stays: rig.on("control.parking"),
        };
      });
      return {
        comparisons: seen.flatMap(({ lost, held, shuts, low, late, lit, stays }) => [
          near({
            what: `${lost} burst: healthy circuit half a minute after`,
            unit: "bar",
            got: bar(held),
            expected: 10,
            within: 0.1,
            reason: "it keeps what it has",
          }),
          above({
            what: `${lost} burst: refill of the healthy circuit from ${bar(low).toFixed(2)} bar`,
            unit: "bar",
            got: bar(late - low),
            bound: 0.5,
            reason: "it is refilled",
          }),
          near({
            what: `${lost} burst: healthy circuit after five minutes`,
            unit: "bar",
            got: bar(late),
            expected: bar(shuts),
            within: 0.2,
            reason: "flow through the throttling seat holds it a little off",
          }),
          so(`${lost} burst: warning lit and parking control in`, lit && stays, true, "parking has its own circuit"),
        ]),
      };
    },
  });

export const oneCircuit = (yard: Yard): readonly Check[] => [e06a(yard), e06b(yard), e06c(yard)];
