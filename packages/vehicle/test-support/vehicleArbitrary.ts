import fc from "fast-check";

/** What random vehicles differ in. Plain data, so that a failing one prints as something to read. */
export interface Recipe {
  readonly kind: "bus" | "truck" | "tractor" | "trailer";
  readonly electric: boolean;
  readonly multiCircuit: boolean;
  readonly cutOutPsi: number;
  readonly bandPsi: number;
  readonly tankLitres: readonly [number, number, number];
  readonly displacementCm3: number;
  readonly dryer: boolean;
  readonly supplyTank: boolean;
  readonly axles: readonly AxleRecipe[];
  readonly antiCompounding: boolean;
  readonly springVia: "relay" | "quickRelease" | "direct";
  readonly modulating: boolean;
  readonly parkingTank: boolean;
  readonly auxiliary: "none" | "doors" | "suspension" | "unprotected";
  readonly popsOutPsi: number;
}

export interface AxleRecipe {
  readonly chamber: "12" | "16" | "20" | "24" | "30" | "36";
  readonly spring: boolean;
  readonly disc: boolean;
  readonly long: boolean;
  readonly via: "relay" | "quickRelease" | "direct";
  readonly freeStrokeIn: number;
  readonly rightFreeStrokeIn: number;
  readonly antilock: "none" | "perAxle" | "perSide";
  readonly loadSensing: boolean;
  readonly shares: boolean;
  readonly hoseM: number;
}

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true }).map(rounded);

function rounded(value: number): number {
  return Math.floor(value * 1000 + 0.5) / 1000;
}

const axle: fc.Arbitrary<AxleRecipe> = fc.record({
  chamber: fc.constantFrom("12", "16", "20", "24", "30", "36"),
  spring: fc.boolean(),
  disc: fc.boolean(),
  long: fc.boolean(),
  via: fc.constantFrom("relay", "quickRelease", "direct"),
  freeStrokeIn: number(0.3, 1.2),
  rightFreeStrokeIn: number(0.3, 1.2),
  antilock: fc.constantFrom("none", "perAxle", "perSide"),
  loadSensing: fc.boolean(),
  shares: fc.boolean(),
  hoseM: number(0.3, 5),
});

/** Random recipes; each makes a vehicle that loadVehicle accepts (a test says so). */
export const recipe: fc.Arbitrary<Recipe> = fc.record({
  kind: fc.constantFrom("bus", "truck", "tractor", "trailer"),
  electric: fc.boolean(),
  multiCircuit: fc.boolean(),
  cutOutPsi: number(110, 145),
  bandPsi: number(5, 30),
  tankLitres: fc.tuple(number(8, 40), number(8, 60), number(8, 60)),
  displacementCm3: number(150, 720),
  dryer: fc.boolean(),
  supplyTank: fc.boolean(),
  axles: fc.array(axle, { minLength: 2, maxLength: 4 }),
  antiCompounding: fc.boolean(),
  springVia: fc.constantFrom("relay", "quickRelease", "direct"),
  modulating: fc.boolean(),
  parkingTank: fc.boolean(),
  auxiliary: fc.constantFrom("none", "doors", "suspension", "unprotected"),
  popsOutPsi: number(20, 45),
});

const plate = (value: number, unit: string) => ({ value, unit, from: "plate" });
const choice = (value: string) => ({ value, from: "plate" });

/** The vehicle file of a recipe, as JSON text. */
export function vehicleText(from: Recipe): string {
  const towed = from.kind === "trailer";
  return JSON.stringify({
    format: "brakeyard-vehicle",
    version: 1,
    id: "random",
    title: "Random vehicle",
    kind: from.kind,
    propulsion: towed ? "none" : from.electric ? "electric" : "diesel",
    built: "2020",
    ratings: { gross: plate(18, "t") },
    axles: from.axles.map((one, i) => axleOf(from, one, i)),
    air: towed ? towedAir(from) : powerAir(from),
  });
}

/** Axles of one circuit that come after its first may hang on the first one's valve. */
function axleOf(from: Recipe, one: AxleRecipe, index: number) {
  const towed = from.kind === "trailer";
  const lead = towed ? 0 : 1;
  const steering = !towed && index === 0;
  const shares = one.shares && index > lead;
  return {
    id: `axle${index}`,
    ...(steering && { steering: true }),
    rating: plate(9000, "kg"),
    brakes: {
      foundation: choice(one.disc ? "disc" : "sCam"),
      chamberType: choice(one.chamber),
      chamberStroke: choice(one.long && one.chamber !== "36" ? "long" : "standard"),
      springType: choice(one.spring && !steering ? one.chamber : "none"),
      freeStroke: plate(one.freeStrokeIn, "in"),
      right: { freeStroke: plate(one.rightFreeStrokeIn, "in") },
      application: {
        via: choice(one.via),
        antilock: choice(shares ? "none" : one.antilock),
        hoseLength: plate(one.hoseM, "m"),
        ...(one.loadSensing && !shares && { loadSensing: {} }),
        ...(shares && { shares: `axle${lead}` }),
      },
    },
  };
}

function towedAir(from: Recipe) {
  return { reservoirs: [{ id: "trailer", role: "trailer", volume: plate(from.tankLitres[1], "L") }] };
}

function powerAir(from: Recipe) {
  const [wet, first, second] = from.tankLitres;
  const tanks = [
    ...(from.supplyTank ? [{ id: "supply", role: "supply", volume: plate(wet, "L") }] : []),
    tank(from, "primary", first),
    tank(from, "secondary", second),
    ...(from.parkingTank ? [{ ...tank(from, "parking", 8), id: "park" }] : []),
  ];
  return {
    compressor: { drive: from.electric ? "electric" : "engine", displacement: plate(from.displacementCm3, "cm3") },
    governor: { cutOut: plate(from.cutOutPsi, "psi"), cutIn: plate(from.cutOutPsi - from.bandPsi, "psi") },
    dryer: { fitted: choice(from.dryer ? "yes" : "no") },
    reservoirs: tanks,
    ...(from.multiCircuit && { multiCircuitValve: { circuits: circuits(from) } }),
    auxiliaries: auxiliaries(from),
    parking: {
      ...(from.parkingTank && { fedFrom: "park" }),
      control: { popsOut: plate(from.popsOutPsi, "psi"), holdsIn: plate(from.popsOutPsi + 3, "psi") },
      springs: { via: choice(from.springVia), antiCompounding: choice(from.antiCompounding ? "yes" : "no") },
      ...(from.modulating && { springBrakeModulatingValve: {} }),
    },
  };
}

function tank(from: Recipe, role: string, litres: number) {
  const volume = plate(litres, "L");
  return { id: role, role, volume, ...(from.multiCircuit && { fedFrom: `${role}Circuit` }) };
}

function circuits(from: Recipe) {
  const names = ["primary", "secondary", ...(from.parkingTank ? ["parking"] : []), "auxiliary"];
  return names.map((name) => ({ id: `${name}Circuit`, opens: plate(95, "psi"), closes: plate(75, "psi") }));
}

function auxiliaries(from: Recipe) {
  if (from.auxiliary === "none") return [];
  const guard = from.auxiliary === "unprotected" ? { unprotected: true } : {};
  const kind = from.auxiliary === "suspension" ? "suspension" : "doors";
  return [{ id: "extra", kind, fedFrom: from.multiCircuit ? "auxiliaryCircuit" : "secondary", ...guard }];
}

/** Random vehicles as file texts. */
export const vehicleFile: fc.Arbitrary<string> = recipe.map(vehicleText);
