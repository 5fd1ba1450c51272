import { type NetworkInterfaceInfo, networkInterfaces } from "node:os";

/** The part of `os.networkInterfaces()` that matters here. */
type Interfaces = Readonly<Record<string, readonly NetworkInterfaceInfo[] | undefined>>;

/**
 * The addresses under which this computer can be reached, this computer's own first, then those for tablets on the
 * same network.
 */
export function reachableAddresses(port: number, interfaces: Interfaces = networkInterfaces()): string[] {
  const others = Object.values(interfaces)
    .flatMap((list) => list ?? [])
    .filter((one) => one.family === "IPv4" && !one.internal)
    .map((one) => `http://${one.address}:${port}/`);
  return [`http://localhost:${port}/`, ...others];
}
