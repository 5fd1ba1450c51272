import type { Signal } from "../model/model.ts";
import { mix } from "../model/network.ts";
import { DECIDES, gauge, type Network, type Port } from "./shared.ts";

/** A pressure gauge: a needle that lags, is off by a constant and a factor, and is read to a resolution. Pa. */
export interface GaugeParams {
  readonly lagS: number;
  readonly offsetPa: number;
  readonly gain: number;
  /** Smallest step a person reads; 0 for exact. */
  readonly resolutionPa: number;
}

/** Shows the reading `gauge.NAME`. `whileOn`: an electric gauge that needs the key. `lies` adds an offset (Pa) at 1. */
export function addGauge(
  net: Network,
  name: string,
  port: Port,
  params: GaugeParams,
  options: { whileOn?: Signal; lies?: { fault: Signal; offsetPa: number } } = {},
): void {
  const lie: [Signal, number][] = options.lies ? [[options.lies.fault, options.lies.offsetPa]] : [];
  const needle = net.lag({
    name: `gauge.${name}`,
    mix: mix(0, [port.pressure, 1], [net.atmosphere.pressure, -1], ...lie),
    timeConstantS: params.lagS,
    initial: "mix",
    feedsBack: false,
    scale: 1,
  });
  net.channel(`gauge.${name}`, "reading", "Pa", {
    of: "needle",
    lag: needle,
    offset: params.offsetPa,
    gain: params.gain,
    resolution: params.resolutionPa,
    ...(options.whileOn ? { whileOn: options.whileOn } : {}),
  });
}

/** Low-air switch in one circuit: closes when the gauge pressure falls to `closesPa`, opens again at `opensPa`. */
export interface LowAirSwitchParams {
  readonly closesPa: number;
  readonly opensPa: number;
}

export function addLowAirSwitch(
  net: Network,
  name: string,
  port: Port,
  params: LowAirSwitchParams,
  dead?: Signal,
): Signal {
  if (!(params.closesPa < params.opensPa))
    throw new RangeError(`low-air switch ${name}: must open above where it closes`);
  const broken: { of: Signal; weight: number }[] = dead ? [{ of: dead, weight: -DECIDES }] : [];
  const falls = gauge(net, port, params.closesPa, -1);
  const rises = gauge(net, port, -params.opensPa);
  return net.mode({
    id: `lowAirSwitch.${name}`,
    initial: 0,
    turnsOn: { offset: falls.offset, terms: [...falls.terms, ...broken] },
    turnsOff: { offset: rises.offset, terms: [...rises.terms, ...broken.map((t) => ({ of: t.of, weight: DECIDES }))] },
    needs: [],
    onText: `low-air switch closes: ${name}`,
    offText: `low-air switch opens: ${name}`,
  });
}

/** Lamp and buzzer that any of several switches lights while the key is on. Shows `lamp.NAME` and, if asked, `buzzer.NAME`. */
export function addWarning(
  net: Network,
  name: string,
  switches: readonly Signal[],
  key: Signal,
  buzzer: boolean,
): void {
  const any = switches.map((s) => mix(-0.5, [s, 1]));
  net.channel(`lamp.${name}`, "reading", "", { of: "threshold", any, whileOn: key });
  if (buzzer) net.channel(`buzzer.${name}`, "reading", "", { of: "threshold", any, whileOn: key });
}

/** Stop lamp: lit while any of the sensed lines (by name) stands above the switch pressure and the key is on. Shows `lamp.stop`. */
export function addStopLamp(
  net: Network,
  lines: Readonly<Record<string, Port>>,
  closesPa: number,
  key: Signal | undefined,
): void {
  const any = Object.values(lines).map((p) => gauge(net, p, -closesPa));
  net.channel("lamp.stop", "reading", "", { of: "threshold", any, ...(key ? { whileOn: key } : {}) });
  for (const [name, port] of Object.entries(lines)) {
    net.watch({
      id: `stopLampSwitch.${name}`,
      mix: gauge(net, port, -closesPa),
      risingText: `stop lamp switch closes: ${name}`,
      fallingText: `stop lamp switch opens: ${name}`,
    });
  }
}
