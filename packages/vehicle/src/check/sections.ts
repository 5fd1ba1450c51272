import type { AirFile, VehicleFile } from "../schema/vehicle.ts";
import { type Problem, problem } from "../text/problem.ts";
import { tankOf } from "./layout.ts";

/** Parts that go with the kind of vehicle: what must be there and what cannot. */
export function checkSections(file: VehicleFile): Problem[] {
  const braked = file.axles.some((axle) => axle.brakes !== undefined);
  if (!file.air)
    return braked
      ? [problem(["air"], "missing: the vehicle has brakes but no air", "write the air system")]
      : towsOnly(file);
  return [
    ...(file.kind === "trailer" ? trailerSections(file, file.air) : powerSections(file, file.air)),
    ...driveSections(file),
  ];
}

function towsOnly(file: VehicleFile): Problem[] {
  if (file.kind === "trailer") return [];
  return [
    problem(
      ["air"],
      "missing: only a trailer can be without brakes",
      "write the air system and the brakes of the axles",
    ),
  ];
}

function powerSections(file: VehicleFile, air: AirFile): Problem[] {
  const problems: Problem[] = [];
  if (!air.compressor)
    problems.push(problem(["air", "compressor"], "missing", 'write the compressor, at least {"drive": "engine"}'));
  if (air.towed)
    problems.push(problem(["air", "towed"], "only a trailer has this", "remove it, or make the kind trailer"));
  for (const role of ["primary", "secondary"] as const) {
    const said = role === "primary" ? air.footValve?.primaryFrom : air.footValve?.secondaryFrom;
    if (said === undefined && tankOf(air, role) === undefined) problems.push(noTank(role));
  }
  air.reservoirs.forEach((one, i) => {
    if (one.role === "trailer")
      problems.push(problem(["air", "reservoirs", i, "role"], "only a trailer has such a tank", "write another role"));
  });
  if (file.axles.every((axle) => !axle.brakes))
    problems.push(problem(["axles"], "no axle has brakes", "write the brakes of the axles"));
  return problems;
}

function noTank(role: "primary" | "secondary"): Problem {
  const remedy = `add a tank with "role": "${role}", or say in footValve.${role}From what feeds that section`;
  return problem(["air", "reservoirs"], `no tank has the role ${role}`, remedy);
}

const POWER_ONLY = [
  "compressor",
  "governor",
  "dischargeLine",
  "dryer",
  "footValve",
  "parking",
  "trailerConnection",
  "warning",
  "gauges",
  "multiCircuitValve",
] as const;

function trailerSections(file: VehicleFile, air: AirFile): Problem[] {
  const problems: Problem[] = POWER_ONLY.filter((key) => air[key] !== undefined).map((key) =>
    problem(["air", key], "a trailer has none", "remove it, or change the kind"),
  );
  if (!air.reservoirs.some((one) => one.role === "trailer")) {
    problems.push(problem(["air", "reservoirs"], "no tank has the role trailer", 'give one tank "role": "trailer"'));
  }
  file.axles.forEach((axle, i) => {
    if (axle.brakes?.application?.circuit !== undefined) {
      problems.push(
        problem(["axles", i, "brakes", "application", "circuit"], "a trailer has one service line", "remove it"),
      );
    }
  });
  return problems;
}

/** Engine, propulsion and the compressor's drive must agree. */
function driveSections(file: VehicleFile): Problem[] {
  const problems: Problem[] = [];
  const engine = file.propulsion !== "electric" && file.propulsion !== "none";
  if (file.kind === "trailer" && file.propulsion !== "none") {
    problems.push(problem(["propulsion"], "a trailer does not drive itself", 'write "none"'));
  }
  if (file.kind !== "trailer" && file.propulsion === "none") {
    problems.push(
      problem(["propulsion"], "this vehicle drives itself", 'write "diesel", "petrol", "gas" or "electric"'),
    );
  }
  if (!engine && file.engineSpeeds) problems.push(problem(["engineSpeeds"], "there is no engine", "remove it"));
  if (!engine && file.air?.compressor?.drive === "engine") {
    problems.push(problem(["air", "compressor", "drive"], "there is no engine to drive it", 'write "electric"'));
  }
  return problems;
}
