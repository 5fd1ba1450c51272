import { describe, expect, it } from "vitest";
import { loadVehicle } from "../src/index.ts";
import { brakes, minimalBus, plate } from "../test-support/minimalBus.ts";

// biome-ignore lint/suspicious/noExplicitAny: files are broken here on purpose
type Broken = any;

function refusal(breaking: (bus: Broken) => void) {
  const bus: Broken = minimalBus();
  breaking(bus);
  const loaded = loadVehicle(JSON.stringify(bus));
  return loaded.ok ? [] : loaded.problems;
}

describe("a vehicle file is accepted", () => {
  it("when it holds what stands on plates and a build sheet", () => {
    const loaded = loadVehicle(JSON.stringify(minimalBus()));
    expect(loaded).toMatchObject({ ok: true, vehicle: { id: "minimal" } });
  });

  it("with a byte order mark and with Windows line ends", () => {
    const text = `\uFEFF${JSON.stringify(minimalBus(), null, 2).replace(/\n/g, "\r\n")}`;
    expect(loadVehicle(text).ok).toBe(true);
  });

  it("and says what it took as usual", () => {
    const loaded = loadVehicle(JSON.stringify(minimalBus()));
    expect(loaded.ok && loaded.notes).toContain(
      "$.axles[1].brakes.application.circuit: axle rear is taken to be on the primary circuit (tank primary)",
    );
  });

  it("when circuits part and meet again at a double check valve", () => {
    const problems = refusal((bus) => {
      bus.air.reservoirs.push({
        id: "park",
        role: "parking",
        volume: plate(8, "L"),
        fedFrom: ["primary", "secondary"],
      });
      bus.air.reservoirs[1].fedFrom = ["supply", "park"];
      bus.air.parking = { fedFrom: "park" };
    });
    expect(problems).toEqual([]);
  });
});

/** What is broken, the place that must be named, and words of the message and the remedy. */
const cases: [what: string, breaking: (bus: Broken) => void, path: string, message: RegExp, remedy: RegExp][] = [
  [
    "wrong type: a number as text",
    (b) => {
      b.air.governor.cutOut.value = "125";
    },
    "$.air.governor.cutOut.value",
    /"125" is not a number/,
    /without quotes/,
  ],
  [
    "wrong type: a bare number",
    (b) => {
      b.air.governor.cutOut = 125;
    },
    "$.air.governor.cutOut",
    /125 stands here/,
    /"unit": "psi"/,
  ],
  [
    "wrong type: a list for an object",
    (b) => {
      b.air = [];
    },
    "$.air",
    /a list stands here/,
    /an object/,
  ],
  [
    "wrong type: an object for a list",
    (b) => {
      b.axles = {};
    },
    "$.axles",
    /an object stands here/,
    /a list/,
  ],
  [
    "wrong type: null",
    (b) => {
      b.axles[0].brakes = null;
    },
    "$.axles[0].brakes",
    /null stands here/,
    /an object/,
  ],
  [
    "wrong type: NaN written as null",
    (b) => {
      b.ratings.gross.value = null;
    },
    "$.ratings.gross.value",
    /null is not a number/,
    /write a number/,
  ],
  [
    "missing part: no tanks",
    (b) => {
      delete b.air.reservoirs;
    },
    "$.air.reservoirs",
    /missing/,
    /a list/,
  ],
  [
    "missing part: no axles",
    (b) => {
      b.axles = [];
    },
    "$.axles",
    /too short/,
    /at least 1/,
  ],
  [
    "missing part: no compressor",
    (b) => {
      delete b.air.compressor;
    },
    "$.air.compressor",
    /missing/,
    /"drive"/,
  ],
  [
    "missing part: no air",
    (b) => {
      delete b.air;
    },
    "$.air",
    /brakes but no air/,
    /write the air system/,
  ],
  [
    "missing part: no secondary tank",
    (b) => {
      b.air.reservoirs.pop();
    },
    "$.air.reservoirs",
    /no tank has the role secondary/,
    /"role": "secondary"/,
  ],
  [
    "missing value: volume",
    (b) => {
      delete b.air.reservoirs[0].volume;
    },
    "$.air.reservoirs[0].volume",
    /missing/,
    /"unit": "L"/,
  ],
  [
    "missing value: chamber type",
    (b) => {
      delete b.axles[0].brakes.chamberType;
    },
    "$.axles[0].brakes.chamberType",
    /missing/,
    /"from"/,
  ],
  [
    "missing value: kind",
    (b) => {
      delete b.kind;
    },
    "$.kind",
    /missing/,
    /"bus", "truck", "tractor" or "trailer"/,
  ],
  [
    "unknown key at the top",
    (b) => {
      b.colour = "white";
    },
    "$.colour",
    /unknown key/,
    /format, version, id/,
  ],
  [
    "unknown key in a part",
    (b) => {
      b.air.governor.cutout = plate(1, "psi");
    },
    "$.air.governor.cutout",
    /unknown key/,
    /cutOut, cutIn/,
  ],
  [
    "unknown key in a value",
    (b) => {
      b.air.governor.cutOut.units = "psi";
    },
    "$.air.governor.cutOut.units",
    /unknown key/,
    /value, unit, from/,
  ],
  [
    "unknown key that objects inherit",
    (b) => {
      b.air.governor = JSON.parse('{"__proto__": {"cutOut": 1}}');
    },
    "$.air.governor.__proto__",
    /unknown key/,
    /cutOut/,
  ],
  [
    "unit missing",
    (b) => {
      delete b.air.governor.cutOut.unit;
    },
    "$.air.governor.cutOut.unit",
    /unit is missing/,
    /"psi", "kPa", "bar"/,
  ],
  [
    "unit of another kind",
    (b) => {
      b.air.governor.cutOut.unit = "in";
    },
    "$.air.governor.cutOut.unit",
    /not a unit for this/,
    /"psi"/,
  ],
  [
    "unit that objects inherit",
    (b) => {
      b.air.governor.cutOut.unit = "toString";
    },
    "$.air.governor.cutOut.unit",
    /not a unit/,
    /"psi"/,
  ],
  [
    "negative value",
    (b) => {
      b.air.reservoirs[1].volume.value = -25;
    },
    "$.air.reservoirs[1].volume.value",
    /negative/,
    /between 0.2 and 300 L/,
  ],
  [
    "absurd value",
    (b) => {
      b.air.governor.cutOut.value = 12500;
    },
    "$.air.governor.cutOut.value",
    /outside what a vehicle can have/,
    /between 60 and 250 psi/,
  ],
  [
    "absurd in another unit",
    (b) => {
      b.air.reservoirs[1].volume = plate(25000, "in3");
    },
    "$.air.reservoirs[1].volume.value",
    /25000 in3 is outside/,
    /300 L/,
  ],
  [
    "origin missing",
    (b) => {
      delete b.air.governor.cutIn.from;
    },
    "$.air.governor.cutIn.from",
    /missing/,
    /"measured", "plate" or "typical"/,
  ],
  [
    "typical without a range",
    (b) => {
      b.air.governor.cutIn.from = "typical";
    },
    "$.air.governor.cutIn.low",
    /range/,
    /"low" and "high"/,
  ],
  [
    "range that does not hold the value",
    (b) => {
      Object.assign(b.air.governor.cutIn, { low: 110, high: 120 });
    },
    "$.air.governor.cutIn.low",
    /110 is above the value 105/,
    /low <= value <= high/,
  ],
  [
    "typical choice without alternatives",
    (b) => {
      b.axles[0].brakes.springType.from = "typical";
    },
    "$.axles[0].brakes.springType.alternatives",
    /what else is common/,
    /list/,
  ],
  [
    "choice that is none",
    (b) => {
      b.axles[0].brakes.chamberType.value = "31";
    },
    "$.axles[0].brakes.chamberType.value",
    /not one of the choices/,
    /"30"/,
  ],
  [
    "axle neither braked nor declared unbraked",
    (b) => {
      delete b.axles[0].brakes;
    },
    "$.axles[0]",
    /neither braked nor declared unbraked/,
    /"unbraked": true/,
  ],
  [
    "axle braked and declared unbraked",
    (b) => {
      b.axles[0].unbraked = true;
    },
    "$.axles[0].unbraked",
    /says it has none/,
    /remove one/,
  ],
  [
    "part fed only from itself",
    (b) => {
      b.air.reservoirs[1].fedFrom = "primary";
    },
    "$.air.reservoirs[1].fedFrom",
    /only from itself/,
    /compressor/,
  ],
  [
    "supply circle of two",
    (b) => {
      b.air.reservoirs[1].fedFrom = "secondary";
      b.air.reservoirs[2].fedFrom = "primary";
    },
    "$.air.reservoirs[1].fedFrom",
    /circle, primary from secondary from primary/,
    /feed one of them/,
  ],
  [
    "supply circle through a double check valve that nothing reaches",
    (b) => {
      b.air.reservoirs[1].fedFrom = ["primary", "secondary"];
      b.air.reservoirs[2].fedFrom = "primary";
    },
    "$.air.reservoirs[1].fedFrom",
    /no air can reach it/,
    /feed one of them/,
  ],
  [
    "dangling supply",
    (b) => {
      b.air.reservoirs[1].fedFrom = "wet";
    },
    "$.air.reservoirs[1].fedFrom",
    /no "wet"/,
    /supply/,
  ],
  [
    "dangling supply in a list",
    (b) => {
      b.air.parking = { fedFrom: ["primary", "wet"] };
    },
    "$.air.parking.fedFrom[1]",
    /no "wet"/,
    /secondary/,
  ],
  [
    "list of one supply",
    (b) => {
      b.air.parking = { fedFrom: ["primary"] };
    },
    "$.air.parking.fedFrom",
    /a list of 1/,
    /two or more/,
  ],
  [
    "dangling gauge",
    (b) => {
      b.air.gauges = [{ id: "a", shows: "wet" }];
    },
    "$.air.gauges[0].shows",
    /no "wet"/,
    /"primary"/,
  ],
  [
    "dangling switch",
    (b) => {
      b.air.warning = { watches: ["wet"] };
    },
    "$.air.warning.watches[0]",
    /no "wet"/,
    /"primary"/,
  ],
  [
    "dangling relay supply",
    (b) => {
      b.axles[1].brakes.application = { fedFrom: "wet" };
    },
    "$.axles[1].brakes.application.fedFrom",
    /no "wet"/,
    /"primary"/,
  ],
  [
    "shared valve of an axle that is not there",
    (b) => {
      b.axles[1].brakes.application = { shares: "middle" };
    },
    "$.axles[1].brakes.application.shares",
    /no other braked axle/,
    /front/,
  ],
  [
    "shared valve of the other circuit",
    (b) => {
      b.axles[1].brakes.application = { shares: "front" };
    },
    "$.axles[1].brakes.application.shares",
    /other circuit/,
    /one circuit/,
  ],
  [
    "name used twice",
    (b) => {
      b.air.reservoirs[2].id = "primary";
    },
    "$.air.reservoirs[2].id",
    /used twice/,
    /another name/,
  ],
  [
    "name with a meaning of its own",
    (b) => {
      b.air.reservoirs[2].id = "compressor";
    },
    "$.air.reservoirs[2].id",
    /meaning of its own/,
    /another name/,
  ],
  [
    "name that is none",
    (b) => {
      b.axles[0].id = "Front Axle";
    },
    "$.axles[0].id",
    /cannot be a name/,
    /small letter/,
  ],
  [
    "date of building that is none",
    (b) => {
      b.built = "May 2016";
    },
    "$.built",
    /not a date/,
    /2016-05/,
  ],
  [
    "cut-in above cut-out",
    (b) => {
      b.air.governor.cutIn.value = 130;
    },
    "$.air.governor.cutOut",
    /not above cutIn/,
    /above/,
  ],
  [
    "given cut-in above the typical cut-out",
    (b) => {
      b.air.governor = { cutIn: plate(130, "psi") };
    },
    "$.air.governor.cutIn",
    /cutOut \(125 psi, typical\) is not above cutIn \(130 psi\)/,
    /cutOut above cutIn/,
  ],
  [
    "no dead volume",
    (b) => {
      Object.assign(b.axles[0].brakes, { ratedVolume: plate(40, "in3") });
    },
    "$.axles[0].brakes.ratedVolume",
    /area x fullStroke/,
    /dead volume/,
  ],
  [
    "stroke class not made",
    (b) => {
      b.axles[0].brakes.chamberStroke = { value: "long", from: "plate" };
      b.axles[0].brakes.chamberType.value = "36";
    },
    "$.axles[0].brakes.chamberStroke.value",
    /no long stroke/,
    /standard/,
  ],
  [
    "other chamber without its figures",
    (b) => {
      b.axles[0].brakes.chamberType.value = "other";
    },
    "$.axles[0].brakes.area",
    /no table row/,
    /write it/,
  ],
  [
    "free stroke beyond the stop",
    (b) => {
      b.axles[0].brakes.freeStroke = plate(2.4, "in");
    },
    "$.axles[0].brakes.freeStroke",
    /not above freeStroke/,
    /above/,
  ],
  [
    "engine on an electric vehicle",
    (b) => {
      b.propulsion = "electric";
    },
    "$.air.compressor.drive",
    /no engine/,
    /electric/,
  ],
  [
    "trailer with a compressor",
    (b) => {
      b.kind = "trailer";
      b.propulsion = "none";
    },
    "$.air.compressor",
    /a trailer has none/,
    /remove it/,
  ],
  [
    "compressor drive that is none",
    (b) => {
      b.air.compressor.drive = "wind";
    },
    "$.air.compressor.drive",
    /not one of the choices/,
    /"engine" or "electric"/,
  ],
  [
    "newer format version",
    (b) => {
      b.version = 7;
    },
    "$.version",
    /version 7; this Brakeyard reads up to 1/,
    /newer Brakeyard/,
  ],
  [
    "version that is none",
    (b) => {
      b.version = 1.5;
    },
    "$.version",
    /1.5/,
    /whole number/,
  ],
  [
    "another kind of file",
    (b) => {
      b.format = "brakeyard-run";
    },
    "$.format",
    /brakeyard-run/,
    /brakeyard-vehicle/,
  ],
];

describe("a vehicle file is refused, with place and remedy", () => {
  it.each(cases)("%s", (_what, breaking, path, message, remedy) => {
    const problems = refusal(breaking);
    const here = problems.find((one) => one.path === path);
    expect(problems.map((one) => one.path)).toContain(path);
    expect(here?.message).toMatch(message);
    expect(here?.remedy).toMatch(remedy);
  });

  it("with all problems at once", () => {
    const problems = refusal((bus) => {
      bus.air.governor.cutOut.unit = "kpa";
      bus.axles[1].brakes.arm.value = 55;
      bus.extra = 1;
    });
    expect(problems.map((one) => one.path).sort()).toEqual([
      "$.air.governor.cutOut.unit",
      "$.axles[1].brakes.arm.value",
      "$.extra",
    ]);
  });

  it("when one side differs in a way that cannot be", () => {
    const problems = refusal((bus) => {
      bus.axles[1].brakes = { ...brakes("30", "30"), left: { ratedVolume: plate(60, "in3") } };
    });
    expect(problems.map((one) => one.path)).toEqual(["$.axles[1].brakes.left.ratedVolume"]);
  });
});
