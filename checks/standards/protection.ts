import { STANDARD_RIG } from "@brakeyard/vehicle";
import type { Check, Comparison } from "../src/check.ts";
import { above, atLeast, atMost } from "../src/compare.ts";
import { vehicle } from "../src/yard.ts";
import { standing } from "../src/yard-tools.ts";

const KPA_620 = 620 / 6.894757;
const PRACTICE = "common practice, no source";

/** Pressure held at idle with the pedal on the floor, after a minute and a half, psi. */
function heldAtIdle(id: string): Comparison {
  const rpm = vehicle(id).engineSpeeds?.idle.si ?? 0;
  const of = standing(id, 100, { start: { engineRpm: rpm, loaded: true } })
    .press()
    .wait(90);
  return atLeast({
    what: `${id}: held at idle under full application`,
    unit: "psi",
    got: Math.min(of.psi("primary"), of.psi("secondary")),
    limit: KPA_620,
    ordinary: { low: 95, high: 135, source: "a sound compressor takes it back to cut-out: common practice, no source" },
  });
}

export const quebecIdle: Check = {
  id: "QUEBEC-166",
  title: "Reaches and holds 620 kPa idling under full application",
  kind: "standard",
  source: { text: "Quebec C-24.2, r. 32, s. 166", seen: "read" },
  problem: "Engine at idle, pedal to the floor: lower of the two service tanks after 90 s.",
  inputs: ["from 100 psi, springs off"],
  run: () => ({
    comparisons: [
      "default-bus",
      "bus-a",
      "truck-b",
      "harrow-ridge-12",
      "harrow-ridge-tipper",
      "combination-c-tractor",
    ].map(heldAtIdle),
  }),
};

/** The tractor's tanks after its supply hose has parted from a trailer and the pedal is pumped, psi. */
function keptByTractor(tractor: string, trailer: string): Comparison[] {
  const parted = { kind: "supplyLineParted", name: "parted" } as const;
  const of = standing({ tractor, trailer }, 100, { faults: [parted] })
    .wait(1)
    .breakIt("parted");
  const popped = of.until(() => of.value("control.trailerSupply") === 0, 120);
  of.wait(30);
  const kept = Math.min(of.psi("primary"), of.psi("secondary"));
  of.wait(60);
  const later = Math.min(of.psi("primary"), of.psi("secondary"));
  return [
    atLeast({
      what: `${tractor}: lower tank 30 s after the supply control has popped`,
      unit: "psi",
      got: kept,
      limit: 20,
      ordinary: { low: 20, high: 100, source: PRACTICE },
    }),
    atMost({
      what: `${tractor}: supply control pops after the hose parts`,
      unit: "s",
      got: popped,
      limit: 60,
      ordinary: { low: 0.1, high: 60, source: PRACTICE },
    }),
    above({
      what: `${tractor}: what the tank gains in the next minute, less a tenth of a psi`,
      unit: "psi",
      got: later - kept,
      bound: -0.1,
      reason: "shut off, the tractor's air must hold",
    }),
  ];
}

export const lineBreak: Check = {
  id: "LINE-BREAK",
  title: "Trailer supply line broken: the tractor keeps its air",
  kind: "standard",
  source: {
    text: "Saskatchewan pre-trip procedure: truck air shuts off by at least 20 psi; Quebec s. 166: at least 138 kPa kept; 49 CFR 393.43",
    seen: "read",
  },
  problem:
    "The supply hose parts at 100 psi, engine off. The trailer supply control pops by itself; what is left in the tractor's lower service tank.",
  inputs: ["combination C, and the Harrow Ridge tractor with its semi-trailer"],
  run: () => ({
    comparisons: [
      ...keptByTractor("combination-c-tractor", "combination-c-trailer"),
      ...keptByTractor("harrow-ridge-tractor", "harrow-ridge-semi"),
    ],
  }),
};

/** Lowest pressure at the front coupling while a trailer's tank is lost, air still flowing from the rig, psi. */
function retained(trailer: string, boreM: number): Comparison {
  const burst = { kind: "burst", name: "burst", where: "trailer.tank", boreM } as const;
  const of = standing({ trailer, rig: STANDARD_RIG }, 100, { faults: [burst] })
    .wait(1)
    .breakIt("burst");
  let lowest = of.psi("supplyCoupling");
  for (let i = 0; i < 600; i++) {
    of.wait(0.1);
    lowest = Math.min(lowest, of.psi("supplyCoupling"));
  }
  return atLeast({
    what: `${trailer}: front coupling with a ${boreM * 1000} mm hole in the trailer's tank`,
    unit: "psi",
    got: lowest,
    limit: 70,
    ordinary: { low: 70, high: 100, source: PRACTICE },
  });
}

export const supplyRetention: Check = {
  id: "S5.8.2",
  title: "A leak in the trailer does not let its supply line below 70 psi",
  kind: "standard",
  source: { text: "49 CFR 571.121 S5.8.2 (NHTSA letters nht94-6.27, nht94-4.19, aiam5049)", seen: "read" },
  problem:
    "Trailer on the standard's rig (1000 in3, regulated at 100 psi, air still flowing). A single leakage failure in the service system; the supply line at the front coupling over the next minute.",
  inputs: ["trailer's tank holed, 3 and 8 mm"],
  run: () => ({
    comparisons: ["combination-c-trailer", "harrow-ridge-semi"].flatMap((id) => [
      retained(id, 0.003),
      retained(id, 0.008),
    ]),
  }),
};
