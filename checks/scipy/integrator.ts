import { TICK_S } from "@brakeyard/engine";
import type { Check, Comparison, Outcome } from "../src/check.ts";
import { near } from "../src/compare.ts";
import { Rig } from "../src/rig.ts";
import equalise from "./generated/equalise.json" with { type: "json" };
import governor from "./generated/governor.json" with { type: "json" };
import leakDown from "./generated/leakDown.json" with { type: "json" };
import relay from "./generated/relay.json" with { type: "json" };
import springs from "./generated/springs.json" with { type: "json" };
import { ATMOSPHERE_PA, SUBSYSTEMS, type Subsystem, type SubsystemName } from "./models.ts";

interface Reference {
  readonly solver: string;
  readonly timesS: readonly number[];
  readonly pressuresPa: Readonly<Record<string, readonly number[]>>;
  readonly events: readonly {
    readonly id: string;
    readonly timeS: number;
    readonly pressurePa: number;
    readonly ratePaPerS: number;
  }[];
}

export const REFERENCES: Readonly<Record<SubsystemName, Reference>> = { relay, equalise, governor, leakDown, springs };

const PRESSURE_SHARE = 0.001;
const EVENT_S = 0.002;
/** What a moment can be told to: this share of the pressure, over the rate. */
const EVENT_SHARE = 1e-5;
/** Pressures this near an event, s, are left out. */
const LEFT_OUT_S = 0.05;
const BAR = "the project's own bar for its integrator";

/** How the engine names the events that the scripts name. */
const ENGINE_EVENTS: Readonly<Record<string, { id: string; on: boolean }>> = {
  chamber60Up: { id: "chamber60", on: true },
  chamber60Down: { id: "chamber60", on: false },
  cutOut: { id: "governor.loaded", on: false },
  cutIn: { id: "governor.loaded", on: true },
};

/** Greatest share by which each pressure is off, and where. */
export function worstPressures(system: Subsystem, reference: Reference, tolerance?: number) {
  const rig = new Rig(system.model, { start: system.start, ...(tolerance === undefined ? {} : { tolerance }) });
  for (const { timeS, control, value } of system.controls) {
    rig.run.setControl({ tick: Math.round(timeS / TICK_S), control, value });
  }
  const worst = new Map(Object.keys(reference.pressuresPa).map((node) => [node, { share: 0, timeS: 0 }]));
  reference.timesS.forEach((timeS, i) => {
    rig.wait(timeS - rig.timeS);
    if (reference.events.some((e) => Math.abs(e.timeS - timeS) <= LEFT_OUT_S)) return;
    for (const [node, record] of worst) {
      const right = reference.pressuresPa[node]![i]!;
      const share = Math.abs((rig.value(`pressure.${node}`) + ATMOSPHERE_PA) / right - 1);
      if (!(share <= record.share)) worst.set(node, { share, timeS });
    }
  });
  return { worst, rig };
}

function eventComparisons(reference: Reference, rig: Rig): Comparison[] {
  const seen = new Map<string, number>();
  return reference.events.map((e) => {
    const engine = ENGINE_EVENTS[e.id] ?? { id: e.id, on: false };
    const got = rig.eventTime(engine.id, engine.on, seen.get(e.id) ?? 0);
    seen.set(e.id, got + 1e-9);
    const within = Math.max(EVENT_S, (EVENT_SHARE * e.pressurePa) / Math.abs(e.ratePaPerS));
    return near({ what: `event ${e.id}`, unit: "s", got, expected: e.timeS, within, reason: BAR });
  });
}

/** Runs one subsystem and holds it against the stored reference. */
export function compareWithReference(name: SubsystemName, tolerance?: number): Outcome {
  const system = SUBSYSTEMS[name]();
  const reference = REFERENCES[name];
  const { worst, rig } = worstPressures(system, reference, tolerance);
  const pressures = [...worst].map(([node, { share, timeS }]) =>
    near({
      what: `error of pressure ${node}, worst of ${reference.timesS.length} moments (at ${timeS.toFixed(2)} s)`,
      unit: "%",
      got: share * 100,
      expected: 0,
      within: PRESSURE_SHARE * 100,
      reason: `${BAR}; 50 ms either side of an event left out`,
    }),
  );
  return { comparisons: [...pressures, ...eventComparisons(reference, rig)] };
}

function checkOf(name: SubsystemName): Check {
  const { solver } = REFERENCES[name];
  return {
    id: `SOLVER-${name}`,
    title: SUBSYSTEMS[name]().title,
    kind: "integrator only",
    source: {
      text: `${solver}, restarted at each event; equations written afresh in checks/scipy (npm run reference makes it again)`,
      seen: "derived",
    },
    problem:
      "The product against a general solver of the same equations. It proves the integrator, not the physics: a wrong equation would be wrong in both.",
    inputs: ["checks/scipy/subsystems.json; the product at its default tolerance"],
    run: () => compareWithReference(name),
  };
}

export const integratorChecks: readonly Check[] = (Object.keys(SUBSYSTEMS) as SubsystemName[]).map(checkOf);
