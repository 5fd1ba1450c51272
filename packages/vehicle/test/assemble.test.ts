import { Simulation } from "@brakeyard/engine";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type AssembleOptions,
  type Assembly,
  AssemblyError,
  assemble,
  completeVehicle,
  type FaultSpec,
  fleet,
  loadVehicle,
  STANDARD_RIG,
  type Subject,
} from "../src/index.ts";
import { vehicleFile } from "../test-support/vehicleArbitrary.ts";

const PSI = 6894.757293168361;

function complete(text: string) {
  const loaded = loadVehicle(text);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems, null, 1));
  return completeVehicle(loaded.vehicle);
}

function vehicle(id: string) {
  return complete(fleet.find((one) => one.id === id)?.vehicle() ?? "");
}

const bus: Subject = { vehicle: vehicle("harrow-ridge-12") };
const combination: Subject = { tractor: vehicle("harrow-ridge-tractor"), trailer: vehicle("harrow-ridge-semi") };
const onRig: Subject = { trailer: vehicle("harrow-ridge-semi"), rig: STANDARD_RIG };
const all: [string, Subject][] = [
  ["bus", bus],
  ["tipper", { vehicle: vehicle("harrow-ridge-tipper") }],
  ["electric bus", { vehicle: vehicle("harrow-ridge-electric") }],
  ["bobtail tractor", { vehicle: vehicle("harrow-ridge-tractor") }],
  ["combination", combination],
  ["trailer on its rig", onRig],
];

function subjectOf(text: string): Subject {
  const one = complete(text);
  return one.kind === "trailer" ? { trailer: one, rig: STANDARD_RIG } : { vehicle: one };
}

/** Parked off at 100 psi everywhere, engine stopped. */
function atRest(assembly: Assembly): Simulation {
  const start = assembly.start({ otherTanksPa: 100 * PSI, parking: "in", trailerSupply: "in", key: 1, loaded: true });
  return new Simulation(assembly.model, { start });
}

function reader(assembly: Assembly, simulation: Simulation) {
  const places = new Map(assembly.model.channels.map((channel, i) => [channel.id, i]));
  return (channel: string): number => {
    const at = places.get(channel);
    if (at === undefined) throw new Error(`no channel ${channel}`);
    return simulation.sample()[at] as number;
  };
}

describe("an assembled vehicle", { timeout: 60_000 }, () => {
  it.each(all)("%s stands still by itself: nothing moves more than half a psi in ten seconds", (name, subject) => {
    const assembly = assemble(subject);
    const simulation = atRest(assembly);
    const read = reader(assembly, simulation);
    const nodes = assembly.model.nodes.map((node) => `pressure.${node.name}`);
    const before = nodes.map(read);
    expect(simulation.advanceTo(1000)).toEqual({ ok: true });
    if (name === "electric bus") return; // its compressor runs, as the key is on
    const moved = nodes.filter((node, i) => Math.abs(read(node) - (before[i] as number)) > 0.5 * PSI);
    expect(moved).toEqual([]);
  });

  it("comes from any accepted file and runs: pedal down and up, parking out and in", () => {
    fc.assert(
      fc.property(vehicleFile, (text) => {
        const assembly = assemble(subjectOf(text));
        const simulation = atRest(assembly);
        const controls = assembly.model.controls.map((control) => control.id);
        const pedal = controls.includes("pedal") ? "pedal" : "handValve";
        simulation.setControl({ tick: 50, control: pedal, value: 1 });
        simulation.setControl({ tick: 200, control: pedal, value: 0 });
        if (controls.includes("parking")) {
          simulation.setControl({ tick: 300, control: "parking", value: 0 });
          simulation.setControl({ tick: 400, control: "parking", value: 1 });
        }
        expect(simulation.advanceTo(500)).toEqual({ ok: true });
        expect(Math.abs(simulation.balance().mass.error)).toBeLessThan(1e-10);
      }),
      { numRuns: 4 },
    );
  });

  it("can be copied as plain data", () => {
    const { model, schematic } = assemble(combination);
    expect(structuredClone(model)).toEqual(model);
    expect(structuredClone(schematic)).toEqual(schematic);
  });
});

describe("the picture of a vehicle", { timeout: 60_000 }, () => {
  const places = (assembly: Assembly) => {
    const channels = new Set(assembly.model.channels.map((channel) => channel.id));
    const { parts, lines } = assembly.schematic;
    const ports = new Set(parts.flatMap((part) => Object.keys(part.ports).map((port) => `${part.id} ${port}`)));
    const used = [
      ...parts.flatMap((part) => [
        ...Object.values(part.channels),
        ...Object.values(part.ports).map((port) => port.pressure),
      ]),
      ...lines.flatMap((line) => [line.pressure, line.flow]),
    ];
    const ends = lines.flatMap((line) => [`${line.from.part} ${line.from.port}`, `${line.to.part} ${line.to.port}`]);
    return {
      unknownChannels: used.filter((channel) => channel !== undefined && !channels.has(channel)),
      loosePipes: ends.filter((end) => !ports.has(end)),
      doubled: parts.map((part) => part.id).filter((id, i, ids) => ids.indexOf(id) < i),
    };
  };

  it.each(all)("%s: every channel exists, every pipe ends at a port, no part is there twice", (_name, subject) => {
    expect(places(assemble(subject))).toEqual({ unknownChannels: [], loosePipes: [], doubled: [] });
  });

  it("holds for random vehicles too", () => {
    fc.assert(
      fc.property(vehicleFile, (text) => {
        expect(places(assemble(subjectOf(text)))).toEqual({ unknownChannels: [], loosePipes: [], doubled: [] });
      }),
      { numRuns: 40 },
    );
  });

  it.each(all)("%s: air can be followed from where it comes in to every chamber and tank", (_name, subject) => {
    const { parts, lines } = assemble(subject).schematic;
    const sources = parts.filter((part) => ["compressor", "electricCompressor", "testRig"].includes(part.kind));
    const reached = new Set(sources.map((part) => part.id));
    for (let grew = true; grew; ) {
      const next = lines.filter((line) => reached.has(line.from.part) && !reached.has(line.to.part));
      for (const line of next) reached.add(line.to.part);
      grew = next.length > 0;
    }
    expect(parts.filter((part) => !reached.has(part.id)).map((part) => part.id)).toEqual([]);
  });

  it("marks facts that do not come from the vehicle itself", () => {
    const { parts } = assemble(bus).schematic;
    expect(parts.find((part) => part.id === "rear.left")?.facts.type).toEqual({ text: "30", typical: false });
    expect(parts.find((part) => part.id === "footValve")?.facts.crack).toEqual({ text: "4 psi", typical: true });
  });
});

describe("a fault", { timeout: 60_000 }, () => {
  const size = { holeM: 0.002 };
  /** Each fault, on what, what one does, and a channel that must then differ. */
  const cases: [FaultSpec, Subject, Record<string, number>, string][] = [
    [{ name: "f", kind: "leak", where: "primary", size }, bus, {}, "pressure.primary"],
    [{ name: "f", kind: "burst", where: "secondary", boreM: 0.006 }, bus, {}, "pressure.secondary"],
    [{ name: "f", kind: "tornServiceDiaphragm", where: "rear.left", size }, bus, { pedal: 1 }, "pressure.primary"],
    [{ name: "f", kind: "springSideLeak", where: "rear.left", size }, bus, {}, "pressure.primary"],
    [{ name: "f", kind: "governorStuckUnloaded" }, bus, {}, "mode.governor.loaded"],
    [{ name: "f", kind: "compressorWeak", lost: 1 }, bus, { throttle: 1500, starter: 1 }, "flow.compressor"],
    [{ name: "f", kind: "purgeValveStuckOpen" }, bus, {}, "pressure.dryer.sump"],
    [{ name: "f", kind: "checkValveStuckOpen", where: "primary" }, bus, { "drain.supply": 1 }, "pressure.primary"],
    [{ name: "f", kind: "protectionValveStuckOpen", where: "doors" }, bus, { "drain.supply": 1 }, "pressure.doors"],
    [{ name: "f", kind: "antiCompoundingFailed" }, bus, { parking: 0, pedal: 1 }, "rodForce.rear.left"],
    [{ name: "f", kind: "relayExhaustLeaks", where: "rear", holeM: 0.003 }, bus, {}, "pressure.primary"],
    [
      { name: "f", kind: "relayCracksHigh", where: "rear", byPa: 60000 },
      bus,
      { pedal: 0.4 },
      "pressure.rear.left.service",
    ],
    [{ name: "f", kind: "gaugeReadsHigh", where: "primary", byPa: 70000 }, bus, {}, "gauge.primary"],
    [{ name: "f", kind: "lowAirSwitchDead", where: "primary" }, bus, { "drain.primary": 1 }, "lamp.lowAir"],
    [
      { name: "f", kind: "lowAirSwitchLow", where: "primary", closesBelowPa: 1 },
      bus,
      { "drain.primary": 1 },
      "lamp.lowAir",
    ],
    [{ name: "f", kind: "supplyLineParted" }, combination, {}, "pressure.supplyCoupling"],
    [{ name: "f", kind: "serviceLineParted" }, combination, { pedal: 1 }, "pressure.trailer.front.left.service"],
    [{ name: "f", kind: "linesCrossed" }, combination, {}, "pressure.trailer.supply"],
    [
      { name: "f", kind: "protectionValveStuckOpen", where: "tractorProtection" },
      combination,
      { trailerSupply: 0, pedal: 1 },
      "pressure.trailer.service",
    ],
    [
      { name: "f", kind: "checkValveStuckOpen", where: "trailer.tank" },
      combination,
      { trailerSupply: 0 },
      "pressure.trailer.tank",
    ],
  ];

  function run(
    subject: Subject,
    options: AssembleOptions,
    controls: Record<string, number>,
    onset: readonly [string, number][],
  ) {
    const assembly = assemble(subject, options);
    const simulation = atRest(assembly);
    for (const [control, value] of Object.entries(controls)) {
      simulation.setControl({ tick: control === "pedal" ? 450 : 300, control, value });
    }
    for (const [control, value] of onset) simulation.setControl({ tick: 200, control, value });
    simulation.advanceTo(190);
    const early = reader(assembly, simulation);
    const quiet = assembly.model.nodes.map((node) => early(`pressure.${node.name}`));
    expect(simulation.advanceTo(800)).toEqual({ ok: true });
    return { assembly, quiet, read: reader(assembly, simulation) };
  }

  it.each(cases)("%o has no effect before its onset and shows after it", (spec, subject, controls, channel) => {
    const handle = assemble(subject, { faults: [spec] }).faults[0];
    const faulty = run(subject, { faults: [spec] }, controls, [[handle?.control ?? "", handle?.value ?? 0]]);
    const idle = run(subject, { faults: [spec] }, controls, []);
    const scale = Math.abs(idle.read(channel)) || 1;
    expect(Math.abs(faulty.read(channel) - idle.read(channel)) / scale).toBeGreaterThan(0.02);
    const same = Math.max(...faulty.quiet.map((pressure, i) => Math.abs(pressure - (idle.quiet[i] as number))));
    expect(same).toBeLessThan(0.01 * PSI);
  });

  it.each([
    ["bus", bus],
    ["combination", combination],
  ])("that waits changes nothing: a %s with all of them waiting is the healthy one", (_name, subject) => {
    const waiting = cases.filter((one) => one[1] === subject).map(([spec], i) => ({ ...spec, name: `f${i}` }));
    const controls = { pedal: 1 };
    const healthy = run(subject, {}, controls, []);
    const idle = run(subject, { faults: waiting }, controls, []);
    for (const node of healthy.assembly.model.nodes) {
      const channel = `pressure.${node.name}`;
      expect(Math.abs(idle.read(channel) - healthy.read(channel))).toBeLessThan(0.2 * PSI);
    }
  });

  it("that needs a running engine to show: a governor stuck loaded lets the needles climb past cut-out", () => {
    const climb = (faults: FaultSpec[]) => {
      const assembly = assemble(bus, { faults });
      const start = assembly.start({ otherTanksPa: 120 * PSI, parking: "in", engineRpm: 2000 });
      const simulation = new Simulation(assembly.model, { start });
      for (const fault of assembly.faults) simulation.setControl({ tick: 0, control: fault.control, value: 1 });
      simulation.advanceTo(3000);
      return reader(assembly, simulation)("pressure.supply") / PSI;
    };
    expect(climb([])).toBeLessThan(126);
    expect(climb([{ name: "stuck", kind: "governorStuckLoaded" }])).toBeGreaterThan(134);
  });

  it("that sticks: the parking control stays in with the tanks empty", () => {
    const faults: FaultSpec[] = [{ name: "stuck", kind: "parkingControlSticks" }];
    const assembly = assemble(bus, { faults });
    const simulation = atRest(assembly);
    simulation.setControl({ tick: 0, control: "fault.stuck", value: 1 });
    for (const tank of ["primary", "secondary"])
      simulation.setControl({ tick: 10, control: `drain.${tank}`, value: 1 });
    simulation.advanceTo(6000);
    const read = reader(assembly, simulation);
    expect(read("pressure.primary")).toBeLessThan(10 * PSI);
    expect(read("control.parking")).toBe(1);
  });

  it("given as psi per minute empties the tank that feeds the place at that rate", () => {
    const rate = (6 * PSI) / 60;
    const faults: FaultSpec[] = [
      { name: "f", kind: "leak", where: "supply", size: { ratePaPerS: rate, atGaugePa: 100 * PSI } },
    ];
    const assembly = assemble(bus, { faults, isothermal: true });
    const start = assembly.start({ otherTanksPa: 110 * PSI, loaded: false });
    const simulation = new Simulation(assembly.model, { start });
    simulation.setControl({ tick: 0, control: "fault.f", value: 1 });
    const read = reader(assembly, simulation);
    simulation.advanceTo(1000);
    // At 110 psi the flow is greater than at 100 in proportion to absolute pressure.
    const asStated = (110 * PSI - read("pressure.supply")) / (10 * rate) / (124.3 / 114.7);
    expect(Math.abs(asStated - 1)).toBeLessThan(0.01);
  });

  const refusals: [string, Subject, AssembleOptions, RegExp, RegExp][] = [
    [
      "a place that is not there",
      bus,
      { faults: [{ name: "f", kind: "tornServiceDiaphragm", where: "middle.left", size }] },
      /no "middle.left"/,
      /front.left/,
    ],
    [
      "a vehicle without the part",
      bus,
      { faults: [{ name: "f", kind: "linesCrossed" }] },
      /nothing that linesCrossed/,
      /leave the fault out/,
    ],
    [
      "the same thing broken twice",
      bus,
      {
        faults: [
          { name: "a", kind: "lowAirSwitchDead", where: "primary" },
          { name: "b", kind: "lowAirSwitchDead", where: "primary" },
        ],
      },
      /already such a fault/,
      /leave one/,
    ],
    [
      "a name used twice",
      bus,
      {
        faults: [
          { name: "a", kind: "leak", where: "primary", size },
          { name: "a", kind: "leak", where: "supply", size },
        ],
      },
      /two faults/,
      /name of its own/,
    ],
    [
      "a rate where no tank is",
      onRig,
      { faults: [{ name: "a", kind: "leak", where: "serviceCoupling", size: { ratePaPerS: 1, atGaugePa: 1e5 } }] },
      /no tank feeds/,
      /give a hole/,
    ],
    ["a free stroke beyond the stop", bus, { freeStrokesM: { "rear.left": 0.1 } }, /not within/, /2.5 in/],
    ["a chamber that is not there", bus, { freeStrokesM: { "rear.middle": 0.01 } }, /no chamber/, /rear.left/],
    ["a trailer by itself", { vehicle: vehicle("harrow-ridge-semi") }, {}, /no air of its own/, /test rig/],
    [
      "a bus that tows",
      { tractor: vehicle("harrow-ridge-12"), trailer: vehicle("harrow-ridge-semi") },
      {},
      /no trailer connection/,
      /tractor/,
    ],
    [
      "a truck that is towed",
      { tractor: vehicle("harrow-ridge-tractor"), trailer: vehicle("harrow-ridge-tipper") },
      {},
      /not a trailer/,
      /kind trailer/,
    ],
  ];

  it.each(refusals)("assembly refuses %s", (_what, subject, options, message, remedy) => {
    const attempt = () => assemble(subject, options);
    expect(attempt).toThrow(AssemblyError);
    expect(attempt).toThrow(message);
    try {
      attempt();
    } catch (error) {
      expect((error as AssemblyError).remedy).toMatch(remedy);
    }
  });
});
