import { toSi } from "@brakeyard/units";
import { STANDARD_RIG } from "@brakeyard/vehicle";
import type { Check, Comparison } from "../src/check.ts";
import { atMost } from "../src/compare.ts";
import { addToNode } from "../src/extra.ts";
import { PSI, timeAbove, timeBelow } from "../src/rig.ts";
import { type Named, Yard, type YardOptions } from "../src/yard.ts";
import { chambersOf, lastAbove, lastBelow, recordChambers, standing } from "../src/yard-tools.ts";

const MEMORY = "common practice, no source";
const SERVICE = ["supply", "primary", "secondary"];
const TEST_RESERVOIR_M3 = toSi("volume", 50, "in3");

const SINGLES = [
  "default-bus",
  "bus-a",
  "truck-b",
  "legal-minimum-bus",
  "harrow-ridge-12",
  "harrow-ridge-tipper",
  "harrow-ridge-electric",
];
const TRACTORS = ["combination-c-tractor", "harrow-ridge-tractor"];

/** Pedal down from 100 psi: slowest chamber to 60 psi. Released from 95 psi in the chambers: slowest to 5 psi. */
function pedalTimes(id: string) {
  const down = standing(id, 100).wait(1).press();
  const apply = lastAbove(recordChambers(down, 1.5), 60);
  return { apply, release: releasedFrom95(id) };
}

/** The clock runs from the pedal's first movement, chambers at 95 psi. */
function releasedFrom95(id: string): number {
  const of = standing(id, 97.5, { held: SERVICE });
  of.press().wait(20);
  return lastBelow(recordChambers(of.release(), 2), 5);
}

function pedal(id: string): Comparison[] {
  const { apply, release } = pedalTimes(id);
  return [
    atMost({
      what: `${id}: slowest chamber to 60 psi`,
      unit: "s",
      got: apply,
      limit: 0.45,
      ordinary: { low: 0.18, high: 0.45, source: MEMORY },
    }),
    atMost({
      what: `${id}: slowest chamber from 95 to 5 psi`,
      unit: "s",
      got: release,
      limit: 0.55,
      ordinary: { low: 0.25, high: 0.55, source: MEMORY },
    }),
  ];
}

export const actuation: Check = {
  id: "S5.3.3-4",
  title: "Actuation and release times of trucks and buses",
  kind: "standard",
  source: {
    text: "49 CFR 571.121 S5.3.3 (NHTSA letter nht76-4.14, 0.45 s); S5.3.4 0.55 s from memory",
    seen: "read in part",
  },
  problem:
    "From the first movement of the pedal: every chamber to 60 psi from reservoirs at 100 psi; every chamber from 95 to 5 psi.",
  inputs: [
    "vehicles as their files have them; for the release the tanks hold so that chambers stand at 95 psi or a little above",
  ],
  run: () => ({ comparisons: [...SINGLES, ...TRACTORS].flatMap(pedal) }),
};

/** A tractor with the standard's test reservoir on its service coupling instead of a trailer. */
function withTestReservoir(id: string, psi: number, options: YardOptions = {}): Yard {
  const plain = standing(id, psi, { ...options, start: { trailerSupply: "in" } });
  const model = addToNode(plain.model, "serviceCoupling", TEST_RESERVOIR_M3);
  return new Yard(plain.assembly, model, {
    ...options,
    start: { psi, parking: "in", trailerSupply: "in", key: 1, loaded: false },
  });
}

function coupling(id: string): Comparison[] {
  const node = "pressure.serviceCoupling";
  const down = withTestReservoir(id, 100).wait(1).press();
  const apply = timeAbove(down.record([node], 2)[node], 60 * PSI);
  const held = withTestReservoir(id, 97.5, { held: SERVICE });
  held.press().wait(20);
  const release = timeBelow(held.release().record([node], 3)[node], 5 * PSI);
  return [
    atMost({
      what: `${id}: test reservoir to 60 psi`,
      unit: "s",
      got: apply,
      limit: 0.35,
      ordinary: { low: 0.12, high: 0.35, source: MEMORY },
    }),
    atMost({
      what: `${id}: test reservoir from 95 to 5 psi`,
      unit: "s",
      got: release,
      limit: 0.75,
      ordinary: { low: 0.25, high: 0.75, source: MEMORY },
    }),
  ];
}

export const couplingTimes: Check = {
  id: "S5.3.3-4-coupling",
  title: "Actuation and release at the coupling: a 50 in3 test reservoir",
  kind: "standard",
  source: { text: "49 CFR 571.121 S5.3.3, S5.3.4", seen: "from memory" },
  problem:
    "A tractor with the standard's 50 in3 (0.819 L) reservoir on its service coupling: to 60 psi, and from 95 to 5 psi.",
  inputs: [
    "tractors bobtail, supply control in, 100 psi; release with tanks held so that the reservoir stands at 95 psi",
  ],
  run: () => ({ comparisons: TRACTORS.flatMap(coupling) }),
};

/** Trailers driven by the standard's rig. */
function trailer(id: string): Comparison[] {
  const named: Named = { trailer: id, rig: STANDARD_RIG };
  const down = standing(named, 100).wait(1).set("handValve", 1);
  const apply = lastAbove(recordChambers(down, 2), 60);
  down.wait(20);
  const highest = Math.max(...chambersOf(down).map((name) => down.psi(`${name}.service`)));
  const up = down.set("handValve", 0);
  const release = lastBelow(recordChambers(up, 4), 5);
  return [
    atMost({
      what: `${id}: slowest chamber to 60 psi`,
      unit: "s",
      got: apply,
      limit: 0.6,
      ordinary: { low: 0.2, high: 0.6, source: MEMORY },
    }),
    atMost({
      what: `${id}: slowest chamber from ${highest.toFixed(0)} to 5 psi`,
      unit: "s",
      got: release,
      limit: 1.2,
      ordinary: { low: 0.35, high: 1.2, source: MEMORY },
    }),
  ];
}

export const trailerTimes: Check = {
  id: "S5.3.3-4-trailer",
  title: "Actuation and release times of trailers that do not tow",
  kind: "standard",
  source: {
    text: "49 CFR 571.121 S5.3.3, S5.3.4; rig after Figure 1 (letters nht94-6.27, nht94-4.19, read)",
    seen: "from memory",
  },
  problem:
    "Trailer on the standard's rig, 1000 in3 regulated at 100 psi; the clock starts as the rig's quick valve moves.",
  inputs: ["trailer tanks at 100 psi, springs held off"],
  run: () => ({ comparisons: ["combination-c-trailer", "harrow-ridge-semi"].flatMap(trailer) }),
};

const SPRING_SHARE = 0.9;

/** Time from the control's movement until every spring gives 90 % of what it gives in the end. */
function springsOn(named: Named, control: string): { readonly timeS: number } {
  const of = standing(named, 100).wait(1);
  const springs = of.model.chambers.filter((chamber) => chamber.spring).map((chamber) => chamber.name);
  const traces = of.set(control, 0).record(
    springs.map((name) => `springForce.${name}`),
    5,
  );
  const times = springs.map((name) =>
    timeAbove(traces[`springForce.${name}`]!, SPRING_SHARE * of.value(`springForce.${name}`)),
  );
  return { timeS: Math.max(...times) };
}

export const parkingTime: Check = {
  id: "S5.6.3.3",
  title: "Parking brake within 3 s of its control",
  kind: "standard",
  source: { text: "49 CFR 571.121 S5.6.3.3", seen: "from memory" },
  problem:
    "From the movement of the parking control until every spring gives 90 % of its final force; of a trailer on its rig, from the start of venting its supply coupling.",
  inputs: ["100 psi"],
  run: () => {
    const band = { low: 0.15, high: 3, source: MEMORY };
    const cases: [string, Named, string][] = [
      ...[...SINGLES, ...TRACTORS].map((id): [string, Named, string] => [id, id, "parking"]),
      ["harrow-ridge-semi", { trailer: "harrow-ridge-semi", rig: STANDARD_RIG }, "trailerSupply"],
      ["combination-c-trailer", { trailer: "combination-c-trailer", rig: STANDARD_RIG }, "trailerSupply"],
    ];
    return {
      comparisons: cases.map(([id, named, control]) =>
        atMost({
          what: `${id}: springs on`,
          unit: "s",
          got: springsOn(named, control).timeS,
          limit: 3,
          ordinary: band,
        }),
      ),
    };
  },
};
