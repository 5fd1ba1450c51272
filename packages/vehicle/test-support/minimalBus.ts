/** What stands on plates and a build sheet, and nothing else. */
export function minimalBus() {
  return {
    format: "brakeyard-vehicle",
    version: 1,
    id: "minimal",
    title: "Minimal bus",
    kind: "bus",
    propulsion: "diesel",
    built: "2016",
    ratings: { gross: plate(36000, "lb") },
    axles: [
      { id: "front", steering: true, rating: plate(13200, "lb"), brakes: brakes("24", "none") },
      { id: "rear", driven: true, rating: plate(23000, "lb"), brakes: brakes("30", "30") },
    ],
    air: {
      compressor: { drive: "engine", displacement: plate(500, "cm3") },
      governor: { cutOut: plate(125, "psi"), cutIn: plate(105, "psi") },
      reservoirs: [
        { id: "supply", role: "supply", volume: plate(1220, "in3") },
        { id: "primary", role: "primary", volume: plate(25, "L") },
        { id: "secondary", role: "secondary", volume: plate(20, "L") },
      ],
    },
  };
}

/** A value read off a plate. */
export function plate(value: number, unit: string) {
  return { value, unit, from: "plate" };
}

/** The brakes of an axle as a build sheet has them. */
export function brakes(chamber: string, spring: string) {
  return {
    chamberType: { value: chamber, from: "plate" },
    springType: { value: spring, from: "plate" },
    arm: plate(5.5, "in"),
  };
}
