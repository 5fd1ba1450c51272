import { describe, expect, it } from "vitest";
import { fleet, loadRun } from "../src/index.ts";
import { wholeTicks } from "../src/run/time.ts";
import { runToEnd } from "../test-support/runToEnd.ts";

const PSI = 6894.757293168361;
const psi = (value: number) => ({ value, unit: "psi" });

// biome-ignore lint/suspicious/noExplicitAny: files are broken here on purpose
type Broken = any;

function bus() {
  return {
    format: "brakeyard-run",
    version: 1,
    vehicle: { fleet: "harrow-ridge-12" },
    start: { otherTanks: psi(100), parking: "in", key: "on" },
    controls: [{ atS: 1, control: "pedal", value: "full" }],
    channels: ["pressure.primary", "gauge.*"],
    durationS: 3,
  };
}

function noFiles(): string {
  throw new Error("no such file");
}

function refusal(breaking: (run: Broken) => void) {
  const run: Broken = bus();
  breaking(run);
  const loaded = loadRun(JSON.stringify(run), noFiles);
  return loaded.ok ? [] : loaded.problems;
}

const combination = (run: Broken) => {
  delete run.vehicle;
  run.tractor = { fleet: "harrow-ridge-tractor" };
  run.trailer = { fleet: "harrow-ridge-semi" };
};

describe("a run file", { timeout: 30_000 }, () => {
  it("becomes a run that the engine takes as it is", () => {
    const loaded = loadRun(JSON.stringify(bus()), noFiles);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
    expect(loaded.run).toMatchObject({
      durationTicks: 300,
      sampleTicks: 10,
      entries: [{ tick: 100, control: "pedal", value: 1 }],
    });
    expect(loaded.run.channels.map((one) => one.id)).toContain("gauge.primary");
  });

  it("runs: the needle falls while the pedal goes down", () => {
    const done = runToEnd(bus());
    expect(done.column("pressure.primary")[9]).toBeCloseTo(100 * PSI, -2);
    expect(done.last("pressure.primary")).toBeLessThan(94 * PSI);
  });

  it("takes the vehicle from the fleet, from a file or from itself", () => {
    const text = fleet[0]?.vehicle() ?? "";
    const asFile = loadRun(JSON.stringify({ ...bus(), vehicle: { file: "my bus.json" } }), (path) =>
      path === "my bus.json" ? text : noFiles(),
    );
    const inline = loadRun(JSON.stringify({ ...bus(), vehicle: { inline: JSON.parse(text) } }), noFiles);
    const fromFleet = loadRun(JSON.stringify(bus()), noFiles);
    if (!asFile.ok || !inline.ok || !fromFleet.ok) throw new Error("refused");
    expect(asFile.run.assembly.model).toEqual(fromFleet.run.assembly.model);
    expect(inline.run.assembly.model).toEqual(fromFleet.run.assembly.model);
  });

  it("moves a pedal over a time, one step a tick, from where it stands", () => {
    const loaded = loadRun(
      JSON.stringify({
        ...bus(),
        controls: [
          { atS: 1.1, control: "pedal", value: "off", overS: 0.02 },
          { atS: 1, control: "pedal", value: 0.5, overS: 0.04 },
        ],
      }),
      noFiles,
    );
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.problems));
    expect(loaded.run.entries.map((one) => [one.tick, one.value])).toEqual([
      [100, 0.125],
      [101, 0.25],
      [102, 0.375],
      [103, 0.5],
      [110, 0.25],
      [111, 0],
    ]);
  });

  it("takes a pedal by the pressure it delivers, to within the valve's hysteresis", () => {
    const done = runToEnd({
      ...bus(),
      controls: [{ atS: 1, control: "pedal", value: psi(40), overS: 0.3 }],
      channels: ["pressure.primaryDelivery", "pressure.secondaryDelivery"],
    });
    expect(Math.abs(done.last("pressure.primaryDelivery") / PSI - 38.5)).toBeLessThan(1.5);
  });

  it("takes engine speeds by name and by number", () => {
    const entries = (value: unknown) => {
      const loaded = loadRun(
        JSON.stringify({ ...bus(), controls: [{ atTick: 7, control: "throttle", value }] }),
        noFiles,
      );
      return loaded.ok ? loaded.run.entries[0] : loaded.problems;
    };
    expect(entries("fastIdle")).toEqual({ tick: 7, control: "throttle", value: 1100 });
    expect(entries({ value: 1500, unit: "rpm" })).toEqual({ tick: 7, control: "throttle", value: 1500 });
  });

  it("brings a fault on by its control at its onset, with its severity", () => {
    const faults = [
      {
        name: "slow",
        fault: "leak",
        where: "primary",
        rate: { value: 3, unit: "psi/min" },
        atPressure: psi(100),
        onsetS: 2,
        severity: 0.5,
      },
    ];
    const loaded = loadRun(JSON.stringify({ ...bus(), faults }), noFiles);
    expect(loaded.ok && loaded.run.entries).toContainEqual({ tick: 200, control: "fault.slow", value: 0.5 });
  });

  it("knows altitude, ambient temperature, part-filled tanks and air that is warmer than its tank", () => {
    const done = runToEnd({
      ...bus(),
      surroundings: { altitude: { value: 7000, unit: "ft" }, temperature: { value: 50, unit: "F" } },
      start: { tanks: { primary: { pressure: psi(72), temperature: { value: 60, unit: "C" } } }, otherTanks: psi(90) },
      controls: [],
      channels: ["pressure.primary", "pressure.secondary", "temperature.*"],
    });
    expect(done.run.assembly.model.atmosphere.pressurePa).toBeCloseTo(78185, -2);
    expect(done.column("pressure.primary")[0]).toBeCloseTo(72 * PSI, 3);
    expect(done.column("pressure.secondary")[0]).toBeCloseTo(90 * PSI, 3);
    expect(done.column("temperature.primary")[0]).toBeCloseTo(333.15, 6);
    expect(done.column("temperature.secondary")[0]).toBeCloseTo(283.15, 6);
  });

  it("holds the air at wall temperature when asked, and sets free strokes", () => {
    const done = runToEnd({
      ...bus(),
      isothermal: true,
      start: { ...bus().start, freeStrokes: { "rear.left": { value: 1.1, unit: "in" } } },
      channels: ["temperature.primary", "stroke.*"],
    });
    expect(done.last("temperature.primary")).toBeCloseTo(293.15, 9);
    expect(done.last("stroke.rear.left") - done.last("stroke.rear.right")).toBeCloseTo(0.55 * 0.0254, 3);
  });

  it("couples tractor and trailer, and puts a trailer on the test rig", () => {
    const both: Broken = { ...bus(), start: { ...bus().start, trailerSupply: "in" }, channels: ["pressure.trailer.*"] };
    combination(both);
    expect(runToEnd(both).last("pressure.trailer.front.left.service")).toBeGreaterThan(80 * PSI);
    const { vehicle: _, ...rest } = bus();
    const rig = {
      ...rest,
      trailer: { fleet: "harrow-ridge-semi" },
      rig: {},
      start: { otherTanks: psi(100), trailerSupply: "in" },
    };
    const controls = [{ atS: 1, control: "handValve", value: "full" }];
    const done = runToEnd({ ...rig, controls, channels: ["pressure.trailer.front.left.service", "pressure.rig.tank"] });
    expect(done.last("pressure.trailer.front.left.service")).toBeGreaterThan(85 * PSI);
    expect(done.last("pressure.rig.tank")).toBeGreaterThan(99 * PSI);
  });
});

const cases: [what: string, breaking: (run: Broken) => void, path: string, message: RegExp, remedy: RegExp][] = [
  [
    "no vehicle",
    (r) => {
      delete r.vehicle;
    },
    "$.vehicle",
    /names no vehicle/,
    /tractor and trailer/,
  ],
  [
    "a trailer with nothing to feed it",
    (r) => {
      r.trailer = r.vehicle;
      delete r.vehicle;
    },
    "$.trailer",
    /do not make one run/,
    /trailer and rig/,
  ],
  [
    "a vehicle the fleet does not have",
    (r) => {
      r.vehicle.fleet = "nowhere";
    },
    "$.vehicle.fleet",
    /no "nowhere"/,
    /harrow-ridge-12/,
  ],
  [
    "a vehicle file that is not there",
    (r) => {
      r.vehicle = { file: "x.json" };
    },
    "$.vehicle.file",
    /x.json: no such file/,
    /own folder/,
  ],
  [
    "a vehicle in two ways",
    (r) => {
      r.vehicle.file = "x.json";
    },
    "$.vehicle",
    /exactly one/,
    /"fleet"/,
  ],
  [
    "a vehicle that is itself refused",
    (r) => {
      r.vehicle = { inline: { format: "brakeyard-vehicle", version: 1 } };
    },
    "$.vehicle.inline.id",
    /missing/,
    /short name/,
  ],
  [
    "a bus that tows a trailer",
    (r) => {
      combination(r);
      r.tractor.fleet = "harrow-ridge-12";
    },
    "$.tractor",
    /no trailer connection/,
    /tractor/,
  ],
  [
    "an unknown key",
    (r) => {
      r.speed = 3;
    },
    "$.speed",
    /unknown key/,
    /durationS/,
  ],
  [
    "no duration",
    (r) => {
      delete r.durationS;
    },
    "$.durationS",
    /missing/,
    /durationTicks/,
  ],
  [
    "two durations",
    (r) => {
      r.durationTicks = 100;
    },
    "$.durationS",
    /given twice/,
    /durationTicks/,
  ],
  [
    "a duration that is not whole ticks",
    (r) => {
      r.durationS = 1.005;
    },
    "$.durationS",
    /not a whole number of 10 ms ticks/,
    /whole number/,
  ],
  [
    "a negative duration",
    (r) => {
      r.durationS = -3;
    },
    "$.durationS",
    /out of range/,
    /604800/,
  ],
  [
    "a time between ticks",
    (r) => {
      r.controls[0].atS = 0.015;
    },
    "$.controls[0].atS",
    /not a whole number of 10 ms ticks/,
    /whole number/,
  ],
  [
    "no time",
    (r) => {
      delete r.controls[0].atS;
    },
    "$.controls[0].atS",
    /missing/,
    /atS or atTick/,
  ],
  [
    "two times",
    (r) => {
      r.controls[0].atTick = 3;
    },
    "$.controls[0].atS",
    /twice/,
    /atS or atTick/,
  ],
  [
    "an unknown control",
    (r) => {
      r.controls[0].control = "steering";
    },
    "$.controls[0].control",
    /no control "steering"/,
    /pedal/,
  ],
  [
    "a value out of range",
    (r) => {
      r.controls[0].value = 1.5;
    },
    "$.controls[0].value",
    /1.5 is out of range for pedal/,
    /0 to 1/,
  ],
  [
    "a word that means nothing here",
    (r) => {
      r.controls[0].value = "in";
    },
    "$.controls[0].value",
    /"in" means nothing to pedal/,
    /"full"/,
  ],
  [
    "a pressure beyond the valve",
    (r) => {
      r.controls[0].value = { value: 5000, unit: "psi" };
    },
    "$.controls[0].value",
    /out of range/,
    /"full"/,
  ],
  [
    "a unit that does not go with the control",
    (r) => {
      r.controls[0].value = { value: 3, unit: "rpm" };
    },
    "$.controls[0].value.unit",
    /pedal takes no value in "rpm"/,
    /0 to 1/,
  ],
  [
    "a value without its unit",
    (r) => {
      r.controls[0].value = { value: 3 };
    },
    "$.controls[0].value.unit",
    /unit is missing/,
    /"psi"/,
  ],
  [
    "a jump that is to take time",
    (r) => {
      r.controls = [{ atS: 1, control: "parking", value: "out", overS: 1 }];
    },
    "$.controls[0].overS",
    /it cannot move over a time/,
    /remove overS/,
  ],
  [
    "a movement that cuts into another",
    (r) => {
      r.controls = [
        { atS: 1, control: "pedal", value: 1, overS: 2 },
        { atS: 2, control: "pedal", value: 0 },
      ];
    },
    "$.controls[1].atS",
    /still moves/,
    /after it has arrived/,
  ],
  [
    "a tank that is not there",
    (r) => {
      r.start.tanks = { wet: { pressure: psi(3) } };
    },
    "$.start.tanks.wet",
    /no tank "wet"/,
    /supply/,
  ],
  [
    "a tank without a unit",
    (r) => {
      r.start.tanks = { primary: { pressure: { value: 3 } } };
    },
    "$.start.tanks.primary.pressure.unit",
    /unit is missing/,
    /"psi"/,
  ],
  [
    "a negative pressure",
    (r) => {
      r.start.otherTanks.value = -3;
    },
    "$.start.otherTanks.value",
    /negative/,
    /between 0 and 300/,
  ],
  [
    "a trailer control on a bus",
    (r) => {
      r.start.trailerSupply = "in";
    },
    "$.start.trailerSupply",
    /no trailer supply control/,
    /remove it/,
  ],
  [
    "an engine speed below idle",
    (r) => {
      r.start.engine = { value: 300, unit: "rpm" };
    },
    "$.start.engine.value",
    /not a speed at which this engine runs/,
    /700 to 2200/,
  ],
  [
    "an engine in a vehicle without one",
    (r) => {
      r.vehicle.fleet = "harrow-ridge-electric";
      r.start.engine = "idle";
    },
    "$.start.engine",
    /no engine/,
    /remove it/,
  ],
  [
    "a free stroke beyond the stop",
    (r) => {
      r.start.freeStrokes = { "rear.left": { value: 3, unit: "in" } };
    },
    '$.start.freeStrokes["rear.left"]',
    /not within/,
    /2.5 in/,
  ],
  [
    "altitude and pressure",
    (r) => {
      r.surroundings = { altitude: { value: 1, unit: "m" }, pressure: { value: 90, unit: "kPa" } };
    },
    "$.surroundings.pressure",
    /both given/,
    /keep one/,
  ],
  [
    "a fault that is none",
    (r) => {
      r.faults = [{ name: "a", fault: "gremlin" }];
    },
    "$.faults[0].fault",
    /not one of the choices/,
    /"leak"/,
  ],
  [
    "a fault without its place",
    (r) => {
      r.faults = [{ name: "a", fault: "burst", bore: { value: 6, unit: "mm" } }];
    },
    "$.faults[0].where",
    /missing/,
    /primary/,
  ],
  [
    "a fault at a place that is not there",
    (r) => {
      r.faults = [{ name: "a", fault: "lowAirSwitchDead", where: "wet" }];
    },
    "$.faults[0].where",
    /no "wet"/,
    /primary or secondary/,
  ],
  [
    "a fault this vehicle cannot have",
    (r) => {
      r.faults = [{ name: "a", fault: "linesCrossed" }];
    },
    "$.faults[0].fault",
    /nothing that linesCrossed/,
    /leave the fault out/,
  ],
  [
    "a leak without a size",
    (r) => {
      r.faults = [{ name: "a", fault: "leak", where: "primary" }];
    },
    "$.faults[0].hole",
    /size of the leak is missing/,
    /"rate" with "atPressure"/,
  ],
  [
    "a leak with two sizes",
    (r) => {
      r.faults = [
        {
          name: "a",
          fault: "leak",
          where: "primary",
          hole: { value: 1, unit: "mm" },
          rate: { value: 1, unit: "psi/min" },
        },
      ];
    },
    "$.faults[0].rate",
    /twice/,
    /"hole"/,
  ],
  [
    "a rate without its pressure",
    (r) => {
      r.faults = [{ name: "a", fault: "leak", where: "primary", rate: { value: 1, unit: "psi/min" } }];
    },
    "$.faults[0].atPressure",
    /one pressure/,
    /"atPressure"/,
  ],
  [
    "two faults of one name",
    (r) => {
      r.faults = [
        { name: "a", fault: "compressorDead" },
        { name: "a", fault: "purgeValveStuckOpen" },
      ];
    },
    "$.faults[1].name",
    /names another fault/,
    /name of its own/,
  ],
  [
    "a severity above one",
    (r) => {
      r.faults = [{ name: "a", fault: "compressorDead", severity: 2 }];
    },
    "$.faults[0].severity",
    /2 stands here/,
    /0 to 1/,
  ],
  [
    "a channel that is not there",
    (r) => {
      r.channels = ["pressure.wet"];
    },
    "$.channels[0]",
    /no channel is called "pressure.wet"/,
    /pressure.primary/,
  ],
  [
    "a channel pattern that is too much",
    (r) => {
      r.channels = ["*a*b*c*d*"];
    },
    "$.channels[0]",
    /stands here/,
    /list such as/,
  ],
  [
    "more rows than can be written",
    (r) => {
      r.durationS = 600000;
      r.sampleEveryS = 0.01;
    },
    "$.sampleEveryS",
    /rows are more/,
    /shorter run/,
  ],
  [
    "a tolerance that is none",
    (r) => {
      r.tolerance = 1;
    },
    "$.tolerance",
    /1 stands here/,
    /1e-5/,
  ],
  [
    "isothermal in words",
    (r) => {
      r.isothermal = "yes";
    },
    "$.isothermal",
    /"yes" stands here/,
    /true or false/,
  ],
  [
    "a newer format",
    (r) => {
      r.version = 2;
    },
    "$.version",
    /version 2; this Brakeyard reads up to 1/,
    /newer/,
  ],
  [
    "a vehicle file instead",
    (r) => {
      r.format = "brakeyard-vehicle";
    },
    "$.format",
    /brakeyard-vehicle/,
    /brakeyard-run/,
  ],
];

describe("a run file is refused, with place and remedy", () => {
  it.each(cases)("%s", (_what, breaking, path, message, remedy) => {
    const problems = refusal(breaking);
    const here = problems.find((one) => one.path === path);
    expect(problems.map((one) => one.path)).toContain(path);
    expect(here?.message).toMatch(message);
    expect(here?.remedy).toMatch(remedy);
  });

  it("50 MB of noise, at once", () => {
    const from = performance.now();
    expect(loadRun("x".repeat(50_000_000), noFiles).ok).toBe(false);
    expect(performance.now() - from).toBeLessThan(250);
  });
});

describe("whole ticks", () => {
  it("are counted from the decimal number as written", () => {
    expect([0.07, 0.29, 1.1, 4.35, 600.01, 0.01].map(wholeTicks)).toEqual([7, 29, 110, 435, 60001, 1]);
    expect([0.005, 0.015, 1.2345].map(wholeTicks)).toEqual([null, null, null]);
  });
});
