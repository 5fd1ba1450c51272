import { type FlowSize, Network, type Port } from "@brakeyard/engine";
import { toSi } from "@brakeyard/units";

/** Air around the benches on which single parts are tried: sea level pressure, 20 C. */
export const BENCH_AIR = { pressurePa: 101_325, temperatureK: 293.15 } as const;

/** No heat passes the wall. */
export const ADIABATIC = { kind: "constant", conductanceWPerK: 0 } as const;

/** A network for a part on the bench, 20 C unless a case says otherwise. Isothermal ones hold all air at wall temperature. */
export function bench(isothermal: boolean, temperatureK: number = BENCH_AIR.temperatureK): Network {
  return new Network({ ambient: { ...BENCH_AIR, temperatureK }, isothermal });
}

/** A store so large that what a part takes from it does not move its pressure: 1e6 m3. */
export function endlessStore(net: Network, name: string): Port {
  return net.volume(name, { volumeM3: 1e6, heat: ADIABATIC });
}

/** Conductance given in dm3/(s bar), the unit of the published tables. */
export function conductance(dm3PerSBar: number, criticalRatio = 0.3): FlowSize {
  return { conductance: toSi("conductance", dm3PerSBar, "dm3/(s bar)"), criticalRatio };
}
