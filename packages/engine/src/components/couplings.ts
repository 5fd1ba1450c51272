import { type FlowSize, type Network, not, type Port, type Signal } from "./shared.ts";

/** The two hose couplings and cut-out cocks between tractor and trailer. */
export interface CouplingParams {
  /** Coupled path. */
  readonly size: FlowSize;
  /** A parted coupling: the open end of the tractor's or the trailer's hose. */
  readonly openEnd: FlowSize;
}

export interface CouplingPorts {
  readonly tractorService: Port;
  readonly tractorSupply: Port;
  readonly trailerService: Port;
  readonly trailerSupply: Port;
}

/**
 * Declares `coupling.service` and `coupling.supply` (0 coupled, 1 parted), `coupling.crossed` (1: hoses exchanged), `cock.service` and
 * `cock.supply` (0 open, 1 shut; a shut cock lies on the tractor side of its coupling).
 */
export function addCouplings(net: Network, ports: CouplingPorts, params: CouplingParams): void {
  const step = (id: string): Signal =>
    net.control({ id, kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0];
  const crossed = step("coupling.crossed");
  const straight = not(net, "coupling.straight", crossed);
  const line = (which: "service" | "supply", tractor: Port, trailer: Port, wrong: Port): void => {
    const parted = step(`coupling.${which}`);
    const joined = not(net, `coupling.${which}.joined`, parted);
    const open = not(net, `cock.${which}.open`, step(`cock.${which}`));
    const hose = net.orifice(`coupling.${which}`, tractor, trailer, params.size, { factors: [joined, open, straight] });
    const mixed = net.orifice(`coupling.${which}.crossed`, tractor, wrong, params.size, {
      factors: [joined, open, crossed],
    });
    const here = net.orifice(`coupling.${which}.tractorEnd`, tractor, net.atmosphere, params.openEnd, {
      factors: [parted, open],
    });
    const there = net.orifice(`coupling.${which}.trailerEnd`, trailer, net.atmosphere, params.openEnd, {
      factors: [parted, straight],
    });
    const thereCrossed = net.orifice(`coupling.${which}.trailerEndCrossed`, wrong, net.atmosphere, params.openEnd, {
      factors: [parted, crossed],
    });
    net.flowChannel(`coupling.${which}`, [hose, 1], [mixed, 1]);
    net.flowChannel(`coupling.${which}.lost`, [here, 1], [there, 1], [thereCrossed, 1]);
  };
  line("service", ports.tractorService, ports.trailerService, ports.trailerSupply);
  line("supply", ports.tractorSupply, ports.trailerSupply, ports.trailerService);
}

/** The end of a tractor's lines when no trailer is coupled: dummy couplings that hold, or hang open. */
export function addOpenCoupling(net: Network, which: "service" | "supply", line: Port, size: FlowSize): void {
  const open = net.control({ id: `coupling.${which}`, kind: "step", minimum: 0, maximum: 1, initial: 0, unit: "" })[0];
  const end = net.orifice(`coupling.${which}.open`, line, net.atmosphere, size, { factors: [open] });
  net.flowChannel(`coupling.${which}.lost`, [end, 1]);
}
