import * as engine from "@brakeyard/engine";
import type { Plant, Tap } from "./plant.ts";
import { inSeries, valve } from "./sizes.ts";
import type { TractorEnds } from "./towing.ts";
import type { TrailerEnds } from "./trailer.ts";

/** Parted hose ends let air out as their bore would: 9.5 mm. */
const OPEN_END = engine.holeFlow(0.0095);

/** A tractor by itself: the lines end at its couplings, shut unless one is opened. */
export function endBobtail(plant: Plant, ends: TractorEnds): void {
  for (const [which, end] of [
    ["service", ends.service],
    ["supply", ends.supply],
  ] as const) {
    engine.addOpenCoupling(plant.net, which, end.port, OPEN_END);
    drawCoupling(plant, which, drawCock(plant, ends, which, end), undefined);
  }
  plant.faults.byControl("supplyLineParted", "coupling.supply");
  plant.faults.byControl("serviceLineParted", "coupling.service");
}

/** Tractor and trailer joined at their couplings. */
export function couple(plant: Plant, tractor: Omit<TractorEnds, "hand">, trailer: TrailerEnds): void {
  engine.addCouplings(
    plant.net,
    {
      tractorService: tractor.service.port,
      tractorSupply: tractor.supply.port,
      trailerService: trailer.service.port,
      trailerSupply: trailer.supply.port,
    },
    { size: inSeries(valve(tractor.lines.coupling), valve(trailer.lines.coupling)), openEnd: OPEN_END },
  );
  drawCoupling(plant, "service", drawCock(plant, tractor, "service", tractor.service), trailer.service);
  drawCoupling(plant, "supply", drawCock(plant, tractor, "supply", tractor.supply), trailer.supply);
  plant.faults.byControl("supplyLineParted", "coupling.supply");
  plant.faults.byControl("serviceLineParted", "coupling.service");
  plant.faults.byControl("linesCrossed", "coupling.crossed");
}

/** Cut-out cocks stand before the couplings where the vehicle has them; their controls are `cock.service` and `cock.supply`. */
function drawCock(plant: Plant, ends: Pick<TractorEnds, "lines">, which: "service" | "supply", from: Tap): Tap {
  if (ends.lines.cocks.value === "no") return from;
  const id = `cock.${which}`;
  plant.sheet.part({
    id,
    kind: "cutOutCock",
    label: which === "service" ? "Service cut-out cock" : "Supply cut-out cock",
    circuit: from.circuit,
    ports: { 1: from.node, 2: from.node },
    channels: {},
    facts: {},
  });
  plant.sheet.join(from, { part: id, port: "1" }, from.flow === undefined ? {} : { flow: from.flow });
  return { ...from, part: id, number: "2" };
}

function drawCoupling(plant: Plant, which: "service" | "supply", from: Tap, to: Tap | undefined): void {
  const id = `coupling.${which}`;
  plant.sheet.part({
    id,
    kind: "coupling",
    label: which === "service" ? "Service coupling" : "Supply coupling",
    circuit: from.circuit,
    ports: { 1: from.node, ...(to && { 2: to.node }) },
    channels: { lost: `flow.coupling.${which}.lost`, ...(to && { flow: `flow.coupling.${which}` }) },
    facts: {},
  });
  plant.sheet.join(from, { part: id, port: "1" }, from.flow === undefined ? {} : { flow: from.flow });
}
