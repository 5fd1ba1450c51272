import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { buildApp } from "@brakeyard/server";
import { type BrowserContext, chromium, type Page } from "playwright-core";
import { browserRemedy, findBrowser } from "../../scripts/lib/browser.mjs";
import { inRoot } from "../../scripts/lib/root.mjs";

/** Keeps a browser run as root, in a container and without a graphics card, quiet and off the network. */
const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** The built page, served on a port of its own and open in a real browser. */
export interface Opened {
  readonly address: string;
  readonly context: BrowserContext;
  readonly page: Page;
  /** Uncaught errors and console errors since the page opened. */
  readonly errors: string[];
  /** Addresses outside the page's own server that it asked for. */
  readonly strangers: string[];
  close(): Promise<void>;
}

/** How the page is to be opened. */
export interface OpenOptions {
  readonly width?: number;
  readonly height?: number;
  readonly dark?: boolean;
  readonly touch?: boolean;
  /** False to open the browser without going to the page yet. */
  readonly visit?: boolean;
}

function watch(page: Page, address: string, errors: string[], strangers: string[]): void {
  page.on("pageerror", (error) => errors.push(String(error)));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  page.on("request", (request) => {
    const url = request.url();
    if (/^https?:/.test(url) && !url.startsWith(address)) strangers.push(url);
  });
}

/** Opens the built page; close it in `afterAll`. */
export async function openPage(options: OpenOptions = {}): Promise<Opened> {
  const program = findBrowser();
  if (!program) throw new Error(browserRemedy());
  const app = await buildApp({ webRoot: inRoot("packages", "web", "dist") });
  const address = await app.listen({ port: 0, host: "127.0.0.1" });
  const profile = mkdtempSync(path.join(tmpdir(), "brakeyard-browser-"));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: program,
    headless: true,
    args: FLAGS,
    viewport: { width: options.width ?? 1366, height: options.height ?? 768 },
    colorScheme: options.dark ? "dark" : "light",
    hasTouch: options.touch ?? false,
  });
  const page = context.pages()[0] ?? (await context.newPage());
  const errors: string[] = [];
  const strangers: string[] = [];
  watch(page, address, errors, strangers);
  if (options.visit !== false) await page.goto(address);
  const close = async (): Promise<void> => {
    await context.close();
    await app.close();
    rmSync(profile, { recursive: true, force: true });
  };
  return { address, context, page, errors, strangers, close };
}
