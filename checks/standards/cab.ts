import type { Check, Comparison } from "../src/check.ts";
import { atLeast, between } from "../src/compare.ts";
import { vehicle, type Yard } from "../src/yard.ts";
import { standing } from "../src/yard-tools.ts";

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
const ALL = [...SINGLES, ...TRACTORS];

/** Lets the air out of both service tanks by their drains until something happens; the last pressure before, psi. */
function drained(of: Yard, tanks: readonly string[], until: () => boolean, psi: () => number): number {
  for (const tank of tanks) of.set(`drain.${tank}`, 0.05);
  let before = psi();
  for (let i = 0; i < 60_000 && !until(); i++) {
    before = psi();
    of.wait(0.02);
  }
  return until() ? before : Number.NaN;
}

/** At 100 psi with a compressor that gives nothing: an electric one would run as soon as the key is on. */
function unfed(id: string): Yard {
  const dead = { kind: "compressorWeak", name: "dead", lost: 1 } as const;
  return standing(id, 100, { faults: [dead] }).breakIt("dead");
}

function warning(id: string, tank: "primary" | "secondary"): Comparison {
  const of = unfed(id);
  // The tank that is watched falls alone; the others hold behind their check valves, as a single loss would leave them.
  const got = drained(
    of,
    ["supply", tank].filter((t) => of.assembly.tanks.includes(t)),
    () => of.value("lamp.lowAir") === 1,
    () => of.psi(tank),
  );
  return atLeast({
    what: `${id}: warning with the ${tank} falling`,
    unit: "psi",
    got,
    limit: 60,
    ordinary: {
      low: 60,
      high: id === "harrow-ridge-electric" ? 85 : 75,
      source: "60 to 75 psi; large buses 80 to 85 (read)",
    },
  });
}

export const warningPressure: Check = {
  id: "S5.1.5",
  title: "Low-air warning at or above 60 psi, from either circuit",
  kind: "standard",
  source: {
    text: "49 CFR 571.121 S5.1.5 (NHTSA letters nht73-2.48, 1983-2.22); Quebec s. 166 and Ontario: 380 kPa (55 psi)",
    seen: "read",
  },
  problem:
    "One service tank after the other is let down alone, key on: the pressure at which lamp and buzzer come. A switch on the supply tank would not do.",
  inputs: ["each vehicle from 100 psi, engine off"],
  run: () => ({ comparisons: ALL.flatMap((id) => [warning(id, "primary"), warning(id, "secondary")]) }),
};

function popOut(id: string, control: "parking" | "trailerSupply"): Comparison {
  const of = unfed(id);
  const fed = vehicle(id).air?.power?.parking?.fedFrom ?? [];
  const got = drained(
    of,
    of.assembly.tanks,
    () => of.value(`control.${control}`) === 0,
    () => Math.max(...fed.map((tank) => of.psi(tank))),
  );
  return between({
    what: `${id}: ${control === "parking" ? "parking" : "trailer supply"} control pops`,
    unit: "psi",
    got,
    low: 20,
    high: 45,
    reason: "licence manuals; 49 CFR 393.43 for the trailer supply (from memory, wording read in a district code)",
  });
}

export const popOutPressure: Check = {
  id: "POP-OUT",
  title: "Parking and trailer supply controls pop between 45 and 20 psi",
  kind: "standard",
  source: { text: "licence manuals (20 to 45 psi, read in part); 49 CFR 393.43(b), from memory", seen: "read in part" },
  problem:
    "All tanks let down by their drains, engine off, controls in. The highest tank that feeds the control as it pops by itself.",
  inputs: ["each vehicle from 100 psi; tractors bobtail"],
  run: () => ({
    comparisons: [...ALL.map((id) => popOut(id, "parking")), ...TRACTORS.map((id) => popOut(id, "trailerSupply"))],
  }),
};

function reserve(id: string, tank: "primary" | "secondary"): Comparison {
  const of = standing(id, 100);
  of.press().wait(3);
  return atLeast({
    what: `${id}: ${tank} after a full application from 100 psi`,
    unit: "%",
    got: of.psi(tank),
    limit: 70,
    ordinary: {
      low: 86,
      high: 95,
      source: "a fall of 7 to 10 psi is common practice, no source; 12 or more points to stroke or lost tank volume",
    },
  });
}

export const seventyPercent: Check = {
  id: "393.50",
  title: "Reserve: 70 % left after one full application",
  kind: "standard",
  source: {
    text: "49 CFR 393.50(a) 70 %; Nevada 484D.275 the same; Texas 547.406: not more than 20 % (80 % left)",
    seen: "read",
  },
  problem:
    "Engine stopped, pedal to the floor and held: what is left of the gauge pressure. The stricter Texas figure lies below the ordinary band too.",
  inputs: ["each vehicle from 100 psi, springs off"],
  run: () => ({ comparisons: ALL.flatMap((id) => [reserve(id, "primary"), reserve(id, "secondary")]) }),
};

function delivered(id: string): Comparison {
  const of = standing(id, 100);
  of.press().wait(10);
  const tanks: Record<string, string> = { primary: "primary", secondary: "secondary" };
  const shares = vehicle(id).axles.flatMap((axle) => {
    const circuit = axle.brakes?.application.circuit;
    const tank = circuit === undefined ? undefined : tanks[circuit];
    return tank === undefined ? [] : [of.psi(`${axle.id}.left.service`) / of.psi(tank)];
  });
  return atLeast({
    what: `${id}: lowest chamber over its tank at full pedal`,
    unit: "",
    got: Math.min(...shares),
    limit: 0.9,
    ordinary: { low: 0.9, high: 1.001, source: "full pedal passes reservoir pressure: common practice, no source" },
  });
}

export const fullDelivery: Check = {
  id: "CVC-26502",
  title: "Full application delivers 90 % of what the tank has left",
  kind: "standard",
  source: { text: "California DMV handbook section 5 (CVC 26502)", seen: "read" },
  problem: "Pedal to the floor and held for 10 s: pressure in the chambers over that in the tanks they are fed from.",
  inputs: ["each vehicle from 100 psi, engine off"],
  run: () => ({ comparisons: ALL.map(delivered) }),
};
