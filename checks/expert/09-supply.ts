import { GAS_CONSTANT, PSI } from "@brakeyard/engine";
import type { Check, Comparison } from "../src/check.ts";
import { above, below, between, near, nearShare } from "../src/compare.ts";
import { clause } from "./kinds.ts";
import { builtUp, type Setup, type VehicleRig, type Yard } from "./yard.ts";

const DIESELS = ["bus-a", "harrow-ridge-12", "harrow-ridge-tractor"] as const;
const ELECTRIC = "harrow-ridge-electric";

/** Where the governor feels, and the tank with the safety valve. */
const sensed = (id: string) => (id === ELECTRIC ? "supplyLine" : "supply");
const guarded = (id: string) => (id === ELECTRIC ? "primary" : "supply");

/** Compressor at work, engine at fast idle, parking brake released. */
function pumping(
  yard: Yard,
  id: string,
  psi: number,
  setup: Setup = {},
  speed: "fastIdle" | "governed" = "fastIdle",
): VehicleRig {
  if (id === ELECTRIC) return yard(id, { ...setup, start: { otherTanksPa: psi * PSI, parking: "in", key: 1 } });
  const engineRpm = yard(id).assembly.speedsRpm![speed];
  return yard(id, { ...setup, start: builtUp(psi, { engineRpm }) });
}

const loaded = (rig: VehicleRig) => rig.on("mode.governor.loaded");

/** Presses to 40 psi and lets go, over and over, until the governor loads the compressor again. */
function fanUntilLoaded(rig: VehicleRig): void {
  for (let i = 0; i < 100 && !loaded(rig); i++) {
    rig.pedal(i % 2 === 0 ? rig.travelFor(40) : 0);
    rig.until(() => loaded(rig), 5);
  }
  rig.pedal(0);
}

function band(yard: Yard, id: string): Comparison[] {
  const rig = pumping(yard, id, id === ELECTRIC ? 120 : 95);
  rig.until(() => !loaded(rig), 600, 0.05);
  const cutOut = rig.psi(sensed(id));
  fanUntilLoaded(rig);
  const cutIn = rig.psi(sensed(id));
  rig.until(() => !loaded(rig), 600, 0.05);
  const { governor } = rig.power.supply;
  const reason = "as its file says; what passes between two looks";
  return [
    near({ what: `${id}: cut-out`, unit: "psi", got: cutOut, expected: governor.cutOut.si / PSI, within: 1, reason }),
    near({ what: `${id}: cut-in`, unit: "psi", got: cutIn, expected: governor.cutIn.si / PSI, within: 1.5, reason }),
    between({
      what: `${id}: band`,
      unit: "psi",
      got: cutOut - cutIn,
      low: 19.5,
      high: 26,
      reason: "20 to 25 psi (licensing authority's pre-trip page, read), and what passes while looking",
    }),
    near({
      what: `${id}: cut-out a second time`,
      unit: "psi",
      got: rig.psi(sensed(id)),
      expected: cutOut,
      within: 1,
      reason: "the same again",
    }),
  ];
}

const e09a = (yard: Yard): Check =>
  clause({
    id: "E-09a",
    title: "Governor band",
    source: {
      text: "licensing authority's pre-trip page, rev. 2018-19: cut-out 120 to 145 psi, cut-in 20 to 25 psi lower",
      seen: "read",
    },
    problem:
      "Engine at fast idle (electric: key on) until the governor unloads the compressor; presses to 40 psi until it loads it again; and up once more.",
    inputs: [`${DIESELS.join(", ")} from 95 psi, ${ELECTRIC} from 120 psi`],
    run: () => ({ comparisons: [...DIESELS, ELECTRIC].flatMap((id) => band(yard, id)) }),
  });

/** Air in sump and purge volume, kg. */
function dryerAir(rig: VehicleRig): number {
  const { dryer, dischargeLine } = rig.power.supply;
  const line = (Math.PI / 4) * dischargeLine.bore.si ** 2 * dischargeLine.length.si;
  const air = (node: string, volumeM3: number) =>
    (rig.absolutePsi(node) * PSI * volumeM3) / (GAS_CONSTANT * rig.value(`temperature.${node}`));
  return air("dryer.sump", dryer.volume.si + line) + air("dryer.purgeVolume", dryer.purgeVolume.si);
}

/** Mean pressure of the tanks by volume, psi. */
function meanOfTanks(rig: VehicleRig): number {
  const tanks = rig.vehicle.air!.reservoirs.map((one) => [one.id, one.values.volume.si] as const);
  const volume = tanks.reduce((sum, [, m3]) => sum + m3, 0);
  return tanks.reduce((sum, [id, m3]) => sum + rig.psi(id) * m3, 0) / volume;
}

function purging(yard: Yard, id: string): Comparison[] {
  const rig = pumping(yard, id, 110, { isothermal: true });
  rig.until(() => !loaded(rig), 600, 0.05);
  const before = {
    mean: meanOfTanks(rig),
    purge: rig.psi("dryer.purgeVolume"),
    air: dryerAir(rig),
    out: rig.balance.mass.out,
  };
  const sump = rig.wait(1).psi("dryer.sump");
  const slow = rig.psi("dryer.purgeVolume");
  rig.wait(59);
  return [
    below({ what: `${id}: sump 1 s after cut-out`, unit: "psi", got: sump, bound: 2, reason: "it blows off at once" }),
    between({
      what: `${id}: purge volume 1 s after cut-out, of what it held`,
      unit: "",
      got: slow / before.purge,
      low: 0.5,
      high: 0.99,
      reason: "it blows back slowly through the desiccant",
    }),
    below({
      what: `${id}: purge volume a minute after`,
      unit: "psi",
      got: rig.psi("dryer.purgeVolume"),
      bound: 5,
      reason: "then it is spent",
    }),
    near({
      what: `${id}: mean of the three tanks in that minute, air at wall temperature`,
      unit: "psi",
      got: meanOfTanks(rig) - before.mean,
      expected: 0,
      within: 0.2,
      reason: "the dryer's check valve holds; auxiliaries may still take a little",
    }),
    nearShare({
      what: `${id}: air blown off, over what sump and purge volume lost`,
      unit: "",
      got: (rig.balance.mass.out - before.out) / (before.air - dryerAir(rig)),
      expected: 1,
      share: 0.02,
      reason: "the drop is there and nowhere else",
    }),
  ];
}

const e09b = (yard: Yard): Check =>
  clause({
    id: "E-09b",
    title: "Dryer purge with its drop in the purge volume only",
    problem:
      "Engine at fast idle until cut-out; the minute after, with all air held at wall temperature so that no cooling hides what happens.",
    inputs: [`${DIESELS.join(", ")} from 110 psi`],
    run: () => ({ comparisons: DIESELS.flatMap((id) => purging(yard, id)) }),
  });

function stuck(yard: Yard, id: string, speed: "fastIdle" | "governed"): Comparison[] {
  const faults = [{ name: "stuck", kind: "governorStuckLoaded" }] as const;
  const rig = pumping(yard, id, id === ELECTRIC ? 140 : 120, { faults }, speed).break("stuck");
  const tank = guarded(id);
  const highest = { supply: 0, service: 0 };
  for (let i = 0; i < 750; i++) {
    rig.wait(0.2);
    highest.supply = Math.max(highest.supply, rig.psi(tank));
    highest.service = Math.max(highest.service, rig.psi("primary"));
  }
  const opens = rig.vehicle.air!.reservoirs.find((one) => one.id === tank)!.safetyValve!.opens.si / PSI;
  const what = `${id}, ${speed}`;
  return [
    ...(id === ELECTRIC
      ? []
      : [
          between({
            what: `${what}: highest supply pressure`,
            unit: "psi",
            got: highest.supply,
            low: 145,
            high: 155,
            reason: "near 150 (operator manual, read)",
          }),
        ]),
    near({
      what: `${what}: highest pressure against where its safety valve opens`,
      unit: "psi",
      got: highest.supply - opens,
      expected: 0,
      within: 3,
      reason: "it passes more than the compressor gives",
    }),
    above({
      what: `${what}: highest service pressure`,
      unit: "psi",
      got: highest.service,
      bound: opens - 10,
      reason: "the service tanks have followed: it was the valve that stopped it",
    }),
    above({
      what: `${what}: safety valve opened at`,
      unit: "s",
      got: rig.eventTime(`${tank}.safetyValve.open`, true),
      bound: 0,
      reason: "it was the valve that stopped it",
    }),
  ];
}

const e09c = (yard: Yard): Check =>
  clause({
    id: "E-09c",
    title: "Safety valve near 150 psi with a stuck governor",
    source: { text: "US Army operator manual TM 9-2320-272-10 p. 1-59: safety valve 150 psi", seen: "read" },
    problem:
      "The governor sticks with the compressor loaded; two and a half minutes at fast idle and at governed speed.",
    inputs: [`${DIESELS.join(", ")} from 120 psi; ${ELECTRIC} from 140 psi, whose valve opens at 13 bar`],
    run: () => ({
      comparisons: [
        ...DIESELS.flatMap((id) => [...stuck(yard, id, "fastIdle"), ...stuck(yard, id, "governed")]),
        ...stuck(yard, ELECTRIC, "fastIdle"),
      ],
    }),
  });

export const supply = (yard: Yard): readonly Check[] => [e09a(yard), e09b(yard), e09c(yard)];
