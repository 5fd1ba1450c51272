import { PSI } from "@brakeyard/engine";
import type { Check, Comparison } from "../src/check.ts";
import { above, below, between, inOrder, near } from "../src/compare.ts";
import { timeAbove } from "../src/rig.ts";
import { clause, LBF, so } from "./kinds.ts";
import { builtUp, type Setup, type VehicleRig, type Who, withoutTrailerSprings, type Yard } from "./yard.ts";

const COMBINATIONS: readonly { readonly name: string; readonly who: Who }[] = [
  { name: "combination-c", who: { tractor: "combination-c-tractor", trailer: "combination-c-trailer" } },
  { name: "harrow-ridge", who: { tractor: "harrow-ridge-tractor", trailer: "harrow-ridge-semi" } },
];
const BOTH = "combination-c and the Harrow Ridge tractor with its semi-trailer";
const MANUAL = {
  text: "licence manuals: supply control pops and protection valve shuts between 45 and 20 psi",
  seen: "read",
} as const;

/** Coupled, charged, all released. */
function coupled(yard: Yard, who: Who, setup: Setup = {}): VehicleRig {
  const tanks = { supply: { gaugePa: 121 * PSI }, "trailer.tank": { gaugePa: 119 * PSI } };
  return yard(who, { ...setup, start: builtUp(120, { trailerSupply: "in", tanks }) }).wait(5);
}

const worstTank = (rig: VehicleRig) => Math.min(rig.psi("primary"), rig.psi("secondary"));
const SERVICE = "pressure.trailer.front.left.service";
const SPRING = "pressure.trailer.front.left.spring";

/** Time and supply line pressure (at the control) when the supply control pops, and when the protection valve is shut. */
function popping(rig: VehicleRig, longestS: number, stepS: number) {
  let before = rig.psi("trailerSupplyDelivery");
  let popPsi = Number.NaN;
  let shutPsi = Number.NaN;
  const begin = rig.timeS;
  while (rig.timeS - begin < longestS && !(popPsi >= 0 && shutPsi >= 0)) {
    rig.wait(stepS);
    const [control, line] = [rig.psi("trailerSupplyDelivery"), rig.psi("supplyCoupling")];
    if (Number.isNaN(popPsi) && !rig.on("control.trailerSupply")) popPsi = (before + control) / 2;
    if (Number.isNaN(shutPsi) && rig.value("opening.tractorProtection") < 0.01) shutPsi = line;
    before = control;
  }
  return { popPsi, shutPsi };
}

function protectedEnd(what: string, { popPsi, shutPsi }: { popPsi: number; shutPsi: number }): Comparison[] {
  return [
    between({
      what: `${what}: supply line when its control pops`,
      unit: "psi",
      got: popPsi,
      low: 20,
      high: 45,
      reason: "licence manuals (read)",
    }),
    between({
      what: `${what}: supply line when the protection valve is shut`,
      unit: "psi",
      got: shutPsi,
      low: 20,
      high: 45,
      reason: "licence manuals (read)",
    }),
  ];
}

function supplyParted(yard: Yard, name: string, who: Who): Comparison[] {
  const faults = [{ name: "parted", kind: "supplyLineParted" }] as const;
  const on = coupled(yard, who, { faults }).break("parted").record([SPRING], 3)[SPRING];
  const rig = coupled(yard, who, { faults });
  const before = worstTank(rig);
  const seen = popping(rig.break("parted"), 60, 0.01);
  const atOnce = rig.wait(10).psi("primary");
  const released = rig.wait(600).psi("primary");
  const what = `${name}, supply line parted`;
  return [
    between({
      what: `${what}: trailer spring chambers below 5 psi`,
      unit: "s",
      got: lowTime(on),
      low: 0,
      high: 2,
      reason: "at once",
    }),
    ...protectedEnd(what, seen),
    between({
      what: `${what}: tractor tanks lose before they are shut off`,
      unit: "psi",
      got: before - atOnce,
      low: 0,
      high: 10,
      reason: "little",
    }),
    near({
      what: `${what}: primary tank in ten minutes after`,
      unit: "psi",
      got: released - atOnce,
      expected: 0,
      within: 0.5,
      reason: "then they hold; air cooled by the loss warms",
    }),
    so(`${what}: tractor parking control in`, rig.on("control.parking"), true, "its own springs stay off"),
    near({
      what: `${what}: trailer tank`,
      unit: "psi",
      got: rig.psi("trailer.tank"),
      expected: 119,
      within: 2,
      reason: "its check valve holds",
    }),
  ];
}

function lowTime(trace: { readonly timeS: readonly number[]; readonly values: readonly number[] }): number {
  const i = trace.values.findIndex((v) => v < 5 * PSI);
  return i < 0 ? Number.NaN : trace.timeS[i]!;
}

/** A trailer without springs: its tank is let into its chambers. */
function emergency(yard: Yard): Comparison[] {
  const { name, who } = COMBINATIONS[1]!;
  const faults = [{ name: "parted", kind: "supplyLineParted" }] as const;
  const rig = coupled(yard, who, { faults, editTrailer: withoutTrailerSprings }).break("parted");
  const on = rig.record([SERVICE], 5)[SERVICE];
  return [
    between({
      what: `${name}, no trailer springs, supply line parted: trailer chambers above 60 psi`,
      unit: "s",
      got: timeAbove(on, 60 * PSI),
      low: 0,
      high: 3,
      reason: "emergency brakes at once",
    }),
    above({
      what: `${name}, no trailer springs: trailer chambers ten minutes later`,
      unit: "psi",
      got: rig.wait(600).psi("trailer.front.left.service"),
      bound: 60,
      reason: "they stay on",
    }),
  ];
}

const e13a = (yard: Yard): Check =>
  clause({
    id: "E-13a",
    title:
      "Supply line parted: trailer brakes on at once, supply control pops, protection valve shuts, the tractor's tanks hold",
    source: MANUAL,
    problem:
      "Engine off, all brakes released. The supply coupling parts. Then on a trailer without springs, whose emergency valve must apply it.",
    inputs: [`${BOTH}, tanks at 120 psi (supply tank 121), trailer tank 119 psi`],
    run: () => ({
      comparisons: [...COMBINATIONS.flatMap(({ name, who }) => supplyParted(yard, name, who)), ...emergency(yard)],
    }),
  });

function serviceParted(yard: Yard, name: string, who: Who): Comparison[] {
  const faults = [{ name: "parted", kind: "serviceLineParted" }] as const;
  const rig = coupled(yard, who, { faults });
  const before = worstTank(rig);
  rig.break("parted").wait(300);
  const idle = before - worstTank(rig);
  const what = `${name}, service line parted`;
  rig.pedal(rig.travelFor(60));
  const trailer = Math.max(...rig.record([SERVICE], 5)[SERVICE].values) / PSI;
  const lost = rig.value("flow.coupling.service.lost") * 1000;
  const tractor = rig.psi("driveFront.left.service");
  const falling = before - idle - worstTank(rig);
  const seen = popping(rig, 300, 0.05);
  rig.wait(60);
  const end = worstTank(rig);
  rig.wait(300);
  return [
    near({
      what: `${what}: tractor tanks lose in five minutes, pedal up`,
      unit: "psi",
      got: idle,
      expected: 0,
      within: 0.5,
      reason: "nothing until the pedal goes down",
    }),
    above({
      what: `${what}: air lost at the break, 60 psi asked`,
      unit: "g/s",
      got: lost,
      bound: 2,
      reason: "it goes out there",
    }),
    above({
      what: `${what}: worse tractor tank loses in the first 5 s`,
      unit: "psi",
      got: falling,
      bound: 5,
      reason: "and is missed",
    }),
    below({
      what: `${what}: highest at the trailer's chambers`,
      unit: "psi",
      got: trailer,
      bound: 2,
      reason: "no trailer brakes",
    }),
    above({
      what: `${what}: tractor drive chamber`,
      unit: "psi",
      got: tractor,
      bound: 30,
      reason: "its own brakes work",
    }),
    ...protectedEnd(`${what}, pedal held`, seen),
    below({
      what: `${what}, pedal held: trailer spring chamber a minute later`,
      unit: "psi",
      got: rig.psi("trailer.front.left.spring"),
      bound: 1,
      reason: "ends as with the supply line",
    }),
    between({
      what: `${what}, pedal held: worse tractor tank in the five minutes after that`,
      unit: "psi",
      got: worstTank(rig) - end,
      low: -0.5,
      high: 3,
      reason: "then the tanks hold; air cooled by the loss warms",
    }),
  ];
}

const e13b = (yard: Yard): Check =>
  clause({
    id: "E-13b",
    title:
      "Service line parted: nothing until the pedal goes down, then air is lost and no trailer brakes; held long enough it ends as above",
    source: MANUAL,
    problem:
      "Engine off, all brakes released. The service coupling parts; five minutes with the pedal up; then 60 psi asked and held.",
    inputs: [`${BOTH}, tanks at 120 psi (supply tank 121), trailer tank 119 psi`],
    run: () => ({ comparisons: COMBINATIONS.flatMap(({ name, who }) => serviceParted(yard, name, who)) }),
  });

/** Pushes the trailer supply control and holds it until the line has had time to fill, as one does. */
function chargeTrailer(rig: VehicleRig): VehicleRig {
  rig.set("hold.trailerSupply", 1).set("trailerSupply", 1).wait(10);
  return rig.set("hold.trailerSupply", 0).wait(110);
}

const trailerRod = (rig: VehicleRig) => rig.value("rodForce.trailer.front.left") / LBF;

function crossed(yard: Yard, name: string, who: Who, trailerTank: number): Comparison[] {
  const faults = [{ name: "crossed", kind: "linesCrossed" }] as const;
  const tanks = { supply: { gaugePa: 121 * PSI }, "trailer.tank": { gaugePa: trailerTank * PSI } };
  const rig = yard(who, { faults, start: builtUp(120, { trailerSupply: "out", tanks }) })
    .wait(1)
    .break("crossed");
  chargeTrailer(rig.wait(5));
  const what = `${name}, lines crossed, trailer tank ${trailerTank} psi`;
  const braked = trailerRod(rig);
  const stays = rig.on("control.trailerSupply");
  const spring = rig.psi("trailer.front.left.spring");
  const after = trailerRod(rig.press(1, 3, 10));
  return [
    so(`${what}: supply control stays in`, stays, true, "it feeds a line that holds"),
    below({
      what: `${what}: trailer spring chamber two minutes after pushing the control`,
      unit: "psi",
      got: spring,
      bound: 5,
      reason: "no supply air reaches it",
    }),
    above({
      what: `${what}: trailer rod force`,
      unit: "lbf",
      got: braked,
      bound: 1400,
      reason: "trailer brakes do not release",
    }),
    above({
      what: `${what}: trailer rod force after pedal down and up`,
      unit: "lbf",
      got: after,
      bound: 1400,
      reason: "nor by braking",
    }),
  ];
}

function straight(yard: Yard, name: string, who: Who): Comparison {
  const tanks = { supply: { gaugePa: 121 * PSI }, "trailer.tank": { gaugePa: 119 * PSI } };
  const rig = chargeTrailer(yard(who, { start: builtUp(120, { trailerSupply: "out", tanks }) }).wait(5));
  return below({
    what: `${name}, lines straight: trailer rod force`,
    unit: "lbf",
    got: trailerRod(rig),
    bound: 50,
    reason: "else the comparison proves nothing",
  });
}

const e13c = (yard: Yard): Check =>
  clause({
    id: "E-13c",
    title: "Lines crossed: trailer brakes do not release",
    problem:
      "Engine off, hoses exchanged at the couplings. The supply control is pushed and held in for 10 s; two minutes later, and after a press of the pedal, the trailer's brakes.",
    inputs: [`${BOTH}, tanks at 120 psi (supply tank 121), trailer tank full and empty`],
    run: () => ({
      comparisons: COMBINATIONS.flatMap(({ name, who }) => [
        ...crossed(yard, name, who, 119),
        ...crossed(yard, name, who, 0),
        straight(yard, name, who),
      ]),
    }),
  });

const e13d = (yard: Yard): Check =>
  clause({
    id: "E-13d",
    title: "The hand valve works the trailer alone",
    problem: "Engine off. Hand valve to its end for 3 s, then back; all chambers.",
    inputs: [`${BOTH}, tanks at 120 psi (supply tank 121), trailer tank 119 psi`],
    run: () => ({
      comparisons: COMBINATIONS.flatMap(({ name, who }) => {
        const rig = coupled(yard, who).set("handValve", 1).wait(3);
        const tractor = rig.assembly.chambers.filter((one) => !one.startsWith("trailer."));
        const most = Math.max(...tractor.map((one) => rig.psi(`${one}.service`)));
        const least = Math.min(
          ...rig.assembly.chambers.filter((one) => one.startsWith("trailer.")).map((one) => rig.psi(`${one}.service`)),
        );
        const lamp = rig.on("lamp.stop");
        return [
          above({
            what: `${name}: least of the trailer's chambers`,
            unit: "psi",
            got: least,
            bound: 60,
            reason: "the trailer brakes",
          }),
          below({
            what: `${name}: most of the tractor's chambers`,
            unit: "psi",
            got: most,
            bound: 0.5,
            reason: "the tractor does not",
          }),
          so(`${name}: stop lamp`, lamp, true, "the hand valve lights it too"),
          below({
            what: `${name}: trailer chamber 2 s after letting go`,
            unit: "psi",
            got: rig.set("handValve", 0).wait(2).psi("trailer.front.left.service"),
            bound: 1,
            reason: "it lets go again",
          }),
        ];
      }),
    }),
  });

const e13e = (yard: Yard): Check =>
  clause({
    id: "E-13e",
    title: "Trailer response is later than the tractor's",
    problem:
      "Engine off. Pedal to the floor: when the chambers reach 60 psi. Let go from 95 psi or more: when they are down to 5 psi.",
    inputs: [`${BOTH}, tanks at 120 psi (supply tank 121), trailer tank 119 psi; left chambers`],
    run: () => ({
      comparisons: COMBINATIONS.flatMap(({ name, who }) => {
        const chambers = ["steer.left", "driveRear.left", "trailer.rear.left"] as const;
        const channels = chambers.map((one) => `pressure.${one}.service`);
        const rig = coupled(yard, who);
        const down = rig.pedal(1).record(channels, 3);
        const up = rig.pedal(0).record(channels, 5);
        const rise = channels.map((c) => timeAbove(down[c]!, 60 * PSI));
        const fall = channels.map((c) => lowTime(up[c]!));
        const tractor = (times: number[]) => Math.max(times[0]!, times[1]!);
        return [
          inOrder({
            what: `${name}: 60 psi`,
            happened: [
              ["last tractor chamber", tractor(rise)],
              ["trailer chamber", rise[2]!],
            ],
            reason: "air has further to go",
          }),
          inOrder({
            what: `${name}: release to 5 psi`,
            happened: [
              ["last tractor chamber", tractor(fall)],
              ["trailer chamber", fall[2]!],
            ],
            reason: "the same on the way out",
          }),
          between({
            what: `${name}: trailer later than the last tractor chamber at 60 psi`,
            unit: "s",
            got: rise[2]! - tractor(rise),
            low: 0.02,
            high: 0.6,
            reason: "a few tenths on an ordinary combination",
          }),
        ];
      }),
    }),
  });

export const trailer = (yard: Yard): readonly Check[] => [e13a(yard), e13b(yard), e13c(yard), e13d(yard), e13e(yard)];
