import fastifyStatic from "@fastify/static";
import Fastify, { type FastifyInstance } from "fastify";

/** What the server needs to know before it can answer anything. */
export interface AppOptions {
  /** Folder of the built page. */
  readonly webRoot: string;
}

/**
 * The page loads nothing from elsewhere, so nothing from elsewhere is allowed. Style attributes are: the charts set them.
 * `blob:` is for workers and for files that a person saves.
 */
const contentSecurityPolicy = [
  "default-src 'self'",
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "worker-src 'self' blob:",
  "frame-ancestors 'none'",
  "base-uri 'none'",
].join("; ");

/** Files with a content hash in the name never change; all others are asked for again each time. */
function cacheControl(filePath: string): string {
  return /[\\/]assets[\\/]/.test(filePath) ? "public, max-age=31536000, immutable" : "no-cache";
}

/**
 * Builds the application. It does not listen: tests use `inject`, `serve` opens a port.
 *
 * @throws when `webRoot` is not a folder
 */
export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const app = Fastify({ logger: false });
  app.addHook("onSend", async (_request, reply) => {
    reply.header("x-content-type-options", "nosniff");
    reply.header("referrer-policy", "no-referrer");
    reply.header("content-security-policy", contentSecurityPolicy);
  });
  await app.register(fastifyStatic, {
    root: options.webRoot,
    cacheControl: false,
    setHeaders: (response, filePath) => {
      response.setHeader("cache-control", cacheControl(filePath));
    },
  });
  return app;
}
