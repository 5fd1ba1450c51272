import { type EngineModel, makePlan, type Plan } from "@brakeyard/engine";
import {
  type AssembleOptions,
  type Assembly,
  assemble,
  type CompleteVehicle,
  completeVehicle,
  fleet,
  loadVehicle,
  problemText,
  type Subject,
} from "@brakeyard/vehicle";
import frozenBus from "../vehicle/two-axle-bus.json" with { type: "json" };

/** What is measured: an assembled vehicle and the one plan that all its runs share, so that its code is optimised once. */
export interface BenchSubject {
  readonly title: string;
  readonly assembly: Assembly;
  readonly model: EngineModel;
  readonly plan: Plan;
}

function vehicleOf(text: string): CompleteVehicle {
  const loaded = loadVehicle(text);
  if (!loaded.ok) throw new Error(`a vehicle of the bench is refused: ${problemText(loaded.problems)}`);
  return completeVehicle(loaded.vehicle);
}

function fromFleet(id: string): CompleteVehicle {
  const found = fleet.find((one) => one.id === id);
  if (!found) throw new Error(`the fleet has no ${id}`);
  return vehicleOf(found.vehicle());
}

function subject(title: string, from: Subject, options?: AssembleOptions): BenchSubject {
  const assembly = assemble(from, options);
  return { title, assembly, model: assembly.model, plan: makePlan(assembly.model) };
}

/** The frozen two-axle bus. Its line volumes must not move: smaller lines slow only plain RK4, so they would flatter the product. */
export function benchBus(options?: AssembleOptions): BenchSubject {
  return subject("two-axle bus", { vehicle: vehicleOf(JSON.stringify(frozenBus)) }, options);
}

/** The demo tractor with its semi-trailer: ten brakes. */
export function tenBrakes(): BenchSubject {
  const tractor = fromFleet("harrow-ridge-tractor");
  return subject("ten-brake combination", { tractor, trailer: fromFleet("harrow-ridge-semi") });
}
