import type { FastifyInstance } from "fastify";
import { reachableAddresses } from "./addresses.ts";
import { type AppOptions, buildApp } from "./app.ts";

/** How and where to serve. */
export interface ServeOptions extends AppOptions {
  /** Port to try first; 0 lets the system choose. */
  readonly port: number;
}

/** A server that is listening. */
export interface Served {
  readonly port: number;
  readonly addresses: readonly string[];
  close(): Promise<void>;
}

/** How many ports after the wanted one are tried before giving up. */
const PORTS_TO_TRY = 20;

function isTaken(error: unknown): boolean {
  return error instanceof Error && "code" in error && (error.code === "EADDRINUSE" || error.code === "EACCES");
}

/** Listens on the first free port from `first` on, on all addresses, so that tablets on the network can reach it. */
async function listenOnFreePort(app: FastifyInstance, first: number): Promise<number> {
  const last = Math.min(first + PORTS_TO_TRY - 1, 65535);
  for (let port = first; port <= last; port += 1) {
    try {
      await app.listen({ port, host: "0.0.0.0" });
      return (app.server.address() as { port: number }).port;
    } catch (error) {
      if (!isTaken(error)) throw error;
    }
  }
  throw new Error(`No free port from ${first} to ${last}. Choose another with --port.`);
}

/**
 * Builds the application and opens it to this computer and its network.
 *
 * @throws when no port of the twenty from `port` on is free
 */
export async function serve(options: ServeOptions): Promise<Served> {
  const app = await buildApp(options);
  const port = await listenOnFreePort(app, options.port);
  return { port, addresses: reachableAddresses(port), close: () => app.close() };
}
