import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildApp, reachableAddresses, serve } from "./index.ts";

let webRoot = "";

beforeAll(() => {
  webRoot = mkdtempSync(path.join(tmpdir(), "brakeyard-server-"));
  writeFileSync(path.join(webRoot, "index.html"), "<!doctype html><title>yard</title>");
});

afterAll(() => rmSync(webRoot, { recursive: true, force: true }));

function occupy(port: number): Promise<Server> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once("error", reject);
    server.listen(port, "0.0.0.0", () => resolve(server));
  });
}

describe("the application", () => {
  it("serves the page, asked for afresh each time, and lets it load nothing from elsewhere", async () => {
    const app = await buildApp({ webRoot });
    const answer = await app.inject("/");
    expect(answer.statusCode).toBe(200);
    expect(answer.body).toContain("<title>yard</title>");
    expect(answer.headers["cache-control"]).toBe("no-cache");
    expect(answer.headers["content-security-policy"]).toContain("default-src 'self'");
    await app.close();
  });

  it("answers 404 for what is not there and never leaves its folder", async () => {
    const app = await buildApp({ webRoot });
    expect((await app.inject("/missing.js")).statusCode).toBe(404);
    expect((await app.inject("/..%2f..%2fetc/hostname")).statusCode).not.toBe(200);
    await app.close();
  });
});

describe("serving", () => {
  it("goes to the next port when the wanted one is taken", async () => {
    const blocker = await occupy(0);
    const taken = (blocker.address() as { port: number }).port;
    const served = await serve({ webRoot, port: taken });
    expect(served.port).toBeGreaterThan(taken);
    const answer = await fetch(`http://127.0.0.1:${served.port}/`);
    expect(await answer.text()).toContain("yard");
    await served.close();
    blocker.close();
  });

  it("names this computer first and the network's addresses after it", () => {
    const card = { netmask: "", mac: "", cidr: null, family: "IPv4" as const };
    const list = reachableAddresses(80, {
      lo: [{ ...card, address: "127.0.0.1", internal: true }],
      wlan: [{ ...card, address: "192.0.2.7", internal: false }],
    });
    expect(list).toEqual(["http://localhost:80/", "http://192.0.2.7:80/"]);
  });
});
