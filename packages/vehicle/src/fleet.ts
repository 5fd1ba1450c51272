import bus from "../fleet/harrow-ridge-12.json" with { type: "json" };
import electric from "../fleet/harrow-ridge-electric.json" with { type: "json" };
import semi from "../fleet/harrow-ridge-semi.json" with { type: "json" };
import tipper from "../fleet/harrow-ridge-tipper.json" with { type: "json" };
import tractor from "../fleet/harrow-ridge-tractor.json" with { type: "json" };

/** A vehicle of the invented Harrow Ridge community transport, to begin with before one has written down one's own. */
export interface FleetVehicle {
  readonly id: string;
  readonly title: string;
  readonly kind: "bus" | "truck" | "tractor" | "trailer";
  /** The vehicle file as text, as if it had been opened. */
  vehicle(): string;
}

interface Named {
  readonly id: string;
  readonly title: string;
  readonly kind: string;
}

function entry(file: Named): FleetVehicle {
  const { id, title, kind } = file;
  return { id, title, kind: kind as FleetVehicle["kind"], vehicle: () => `${JSON.stringify(file, null, 2)}\n` };
}

/** The demo fleet: a bus, a tipper, a tractor, its semi-trailer, an electric bus. */
export const fleet: readonly FleetVehicle[] = [bus, tipper, tractor, semi, electric].map(entry);
