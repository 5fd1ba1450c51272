import { mkdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { fleet } from "@brakeyard/vehicle";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { inRoot } from "../../scripts/lib/root.mjs";
import { type Opened, openPage } from "./yard-page.ts";

/** Where the pictures go for a person to look at; the folder is not in the repository. */
const SCREENS = inRoot("dist", "screens");
const AXE = readFileSync(inRoot("node_modules", "axe-core", "axe.min.js"), "utf8");

const SIZES = [
  { name: "1366", width: 1366, height: 768, target: 57 },
  { name: "1024", width: 1024, height: 768, target: 76 },
  { name: "390", width: 390, height: 844, target: 60 },
];

const tractor = fleet.find((v) => v.kind === "tractor")!;
const semi = fleet.find((v) => v.kind === "trailer")!;
const VEHICLES = [
  ...fleet.filter((v) => v.kind === "bus" || v.kind === "truck").map((v) => v.title),
  `${tractor.title} + ${semi.title}`,
];

async function choose(page: Page, title: string): Promise<void> {
  await page.keyboard.press("v");
  await page.locator(".fleet button").getByText(title, { exact: true }).click();
  await page.waitForFunction((t) => document.querySelector(".field.vehicle b")?.textContent === t, title);
  await page.locator(".picture").waitFor();
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(400);
}

/** What overlaps in the picture as it is really drawn, with real fonts. Runs in the page. */
function overlapsInPicture(): string[] {
  const faults: string[] = [];
  const svg = document.querySelector<SVGSVGElement>(".picture")!;
  const shown = (e: Element) => getComputedStyle(e).visibility !== "hidden" && e.getBoundingClientRect().width > 0;
  const texts = [...svg.querySelectorAll("text")].filter(shown).map((e) => {
    const r = e.getBoundingClientRect();
    const trim = r.height * 0.2;
    return { name: e.textContent ?? "", x: r.left, y: r.top + trim, r: r.right, b: r.bottom - trim };
  });
  for (let i = 0; i < texts.length; i += 1) {
    for (let j = i + 1; j < texts.length; j += 1) {
      const a = texts[i]!;
      const b = texts[j]!;
      if (a.x < b.r && b.x < a.r && a.y < b.b && b.y < a.b) faults.push(`"${a.name}" lies on "${b.name}"`);
    }
  }
  const at = svg.getScreenCTM()!;
  for (const path of svg.querySelectorAll<SVGPathElement>(".pipes path.pipe")) {
    for (let s = 0; s <= path.getTotalLength(); s += 3) {
      const p = path.getPointAtLength(s).matrixTransform(at);
      const hit = texts.find((t) => p.x > t.x + 1 && p.x < t.r - 1 && p.y > t.y && p.y < t.b);
      if (hit) faults.push(`a pipe runs through "${hit.name}"`);
    }
  }
  return [...new Set(faults)];
}

/** Pipes that run through the symbol of a part they do not end on, as drawn. Runs in the page. */
function pipesThroughSymbols(): string[] {
  const svg = document.querySelector<SVGSVGElement>(".picture")!;
  const faults = new Set<string>();
  const at = svg.getScreenCTM()!;
  const symbols = [...svg.querySelectorAll<SVGGElement>("[data-part]")].map((g) => {
    const solid = g.querySelector("rect.fill, rect.tank, circle.fill, path.fill") ?? g;
    return { id: g.dataset.part!, box: solid.getBoundingClientRect() };
  });
  for (const path of svg.querySelectorAll<SVGPathElement>(".pipes path.pipe")) {
    const total = path.getTotalLength();
    for (let s = 14; s <= total - 14; s += 3) {
      const p = path.getPointAtLength(s).matrixTransform(at);
      const hit = symbols.find(
        ({ box }) => p.x > box.left + 2 && p.x < box.right - 2 && p.y > box.top + 2 && p.y < box.bottom - 2,
      );
      if (hit) faults.add(`a pipe runs through ${hit.id}`);
    }
  }
  return [...faults];
}

/** Buttons that are too small, too close, cut off, or outside the window. Runs in the page. */
function poorTargets(least: number): string[] {
  const faults: string[] = [];
  const scale = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
  const keys = [...document.querySelectorAll<HTMLElement>(".cab .key, .around .key, .dock .key, .views .key")]
    .filter((e) => e.offsetParent !== null && e.getBoundingClientRect().width > 0)
    .map((e) => ({ e, name: e.getAttribute("aria-label") ?? e.textContent ?? "", r: e.getBoundingClientRect() }));
  for (const { e, name, r } of keys) {
    if (r.width < least * scale - 0.5 || r.height < least * scale - 0.5)
      faults.push(`${name} is ${Math.round(r.width)} x ${Math.round(r.height)}`);
    if (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)
      faults.push(`${name} does not hold its words`);
    if (r.right > innerWidth + 0.5 || r.left < -0.5) faults.push(`${name} leaves the window`);
  }
  for (const a of keys) {
    for (const b of keys) {
      if (a === b) continue;
      const dx = Math.max(a.r.left - b.r.right, b.r.left - a.r.right);
      const dy = Math.max(a.r.top - b.r.bottom, b.r.top - a.r.bottom);
      const tabs = a.e.closest(".views") && b.e.closest(".views");
      if (Math.max(dx, dy) < 7.5 * scale && !tabs) faults.push(`${a.name} is too close to ${b.name}`);
    }
  }
  return faults;
}

/** Words of the page outside the picture that lie on one another. Runs in the page. */
function overlappingWords(): string[] {
  const boxes: { name: string; r: DOMRect }[] = [];
  const walker = document.createTreeWalker(document.querySelector(".page")!, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const parent = node.parentElement!;
    if (
      !node.textContent?.trim() ||
      parent.closest("svg, dialog") ||
      parent.offsetParent === null ||
      parent.offsetWidth <= 1
    )
      continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const r of range.getClientRects()) {
      // What a line that is too long for its field hides is not seen.
      if (r.top > parent.getBoundingClientRect().bottom - 4) continue;
      if (r.width > 1)
        boxes.push({
          name: node.textContent.trim(),
          r: new DOMRect(r.x, r.y + r.height * 0.2, r.width, r.height * 0.6),
        });
    }
  }
  const faults: string[] = [];
  boxes.forEach((a, i) => {
    for (const b of boxes.slice(i + 1)) {
      if (a.name === b.name) continue;
      if (a.r.left < b.r.right - 1 && b.r.left < a.r.right - 1 && a.r.top < b.r.bottom && b.r.top < a.r.bottom)
        faults.push(`"${a.name}" lies on "${b.name}"`);
    }
  });
  return faults;
}

async function axeFaults(page: Page): Promise<string[]> {
  return page.evaluate(async () => {
    const axe = (
      globalThis as unknown as {
        axe: { run(): Promise<{ violations: { id: string; nodes: { target: unknown }[] }[] }> };
      }
    ).axe;
    const { violations } = await axe.run();
    return violations.map(
      (v) =>
        `${v.id}: ${v.nodes
          .map((n) => String(n.target))
          .slice(0, 3)
          .join("; ")}`,
    );
  });
}

for (const size of SIZES) {
  for (const dark of [false, true]) {
    describe(`${size.name} wide, ${dark ? "dark" : "light"}`, () => {
      let opened: Opened;

      beforeAll(async () => {
        mkdirSync(SCREENS, { recursive: true });
        opened = await openPage({ width: size.width, height: size.height, dark, touch: size.name === "390" });
        // The page allows no foreign script, so the checker comes in beside it.
        await opened.context.addInitScript(AXE);
        await opened.page.goto(opened.address);
        await opened.page.locator(".title-block").waitFor();
      });
      afterAll(() => opened?.close());

      for (const title of VEHICLES) {
        it(`draws ${title} without overlaps`, async () => {
          const { page } = opened;
          await choose(page, title);
          const name = `${title.replace(/[^A-Za-z0-9]+/g, "-").toLowerCase()}-${size.name}-${dark ? "dark" : "light"}`;
          await page.screenshot({ path: path.join(SCREENS, `${name}.png`) });
          expect(await page.evaluate(overlapsInPicture)).toEqual([]);
          expect(await page.evaluate(pipesThroughSymbols)).toEqual([]);
          expect(await page.evaluate(overlappingWords)).toEqual([]);
          for (const view of ["cab", "around"]) {
            await page.locator(`.view-${view}`).click();
            await page.waitForTimeout(60);
            if (size.name === "390") await page.screenshot({ path: path.join(SCREENS, `${name}-${view}.png`) });
            expect(await page.evaluate(poorTargets, size.target)).toEqual([]);
            expect(await page.evaluate(overlappingWords)).toEqual([]);
          }
          if (size.name === "390") await page.locator(".view-air").click();
          expect(opened.errors).toEqual([]);
        });
      }

      it("has nothing that axe finds wrong, dialogs included", async () => {
        const { page } = opened;
        expect(await axeFaults(page)).toEqual([]);
        await page.keyboard.press("v");
        await page.getByRole("dialog").waitFor();
        expect(await axeFaults(page)).toEqual([]);
        await page.keyboard.press("Escape");
        await page.keyboard.press("?");
        await page.getByRole("dialog").waitFor();
        expect(await axeFaults(page)).toEqual([]);
        await page.keyboard.press("Escape");
      });
    });
  }
}
