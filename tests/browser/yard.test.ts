import { writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { fleet } from "@brakeyard/vehicle";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { type Opened, openPage } from "./yard-page.ts";

let opened: Opened;

beforeAll(async () => {
  opened = await openPage();
});
afterAll(() => opened?.close());

/** A fresh yard with the bus, parked, its engine idling. */
beforeEach(async () => {
  await opened.page.goto(opened.address);
  await opened.page.locator(".picture").waitFor();
  await opened.page.waitForFunction(() => Number(document.querySelector(".dial .foot text")?.textContent) > 0);
});

const press = (name: string | RegExp) => opened.page.getByRole("button", { name }).first().click();

async function needle(which: "primary" | "secondary"): Promise<number> {
  const texts = await opened.page.locator(".dial .foot text").allTextContents();
  return Number(texts[which === "primary" ? 0 : 1]);
}

async function until(read: () => Promise<boolean>, what: string, ms = 20_000): Promise<void> {
  const end = Date.now() + ms;
  while (!(await read())) {
    if (Date.now() > end) throw new Error(`waited ${ms / 1000} s in vain until ${what}`);
    await opened.page.waitForTimeout(50);
  }
}

const modelTime = () => opened.page.locator(".clock").first().textContent();

describe("the yard", () => {
  it("opens alive: needles up, engine idling, time running, parked", async () => {
    expect(await needle("primary")).toBeGreaterThan(80);
    expect(await needle("secondary")).toBeGreaterThan(80);
    expect(await opened.page.locator(".engine-speed").textContent()).toMatch(/7\d0.*idle/);
    expect(await opened.page.locator(".knob-parking .state").textContent()).toContain("out");
    const before = await modelTime();
    await until(async () => (await modelTime()) !== before, "time runs");
    expect(opened.errors).toEqual([]);
    expect(opened.strangers).toEqual([]);
  });

  it("lowers the needles when the pedal goes down, and not when it comes up", async () => {
    await press("Parking control: Push in");
    await opened.page.waitForTimeout(2500);
    const before = await needle("primary");
    await press("Pedal 60");
    await until(async () => (await needle("primary")) < before, "the needle falls");
    await opened.page.waitForTimeout(1500);
    const held = await needle("primary");
    await press("Pedal 0");
    await opened.page.waitForTimeout(1500);
    expect(await needle("primary")).toBeGreaterThanOrEqual(held);
  });

  it("shows the foot pressure of the step that was pressed, less what the valve keeps", async () => {
    await press("Pedal 60");
    const foot = async () => Number(await opened.page.locator(".pedal .application output").textContent());
    await until(async () => (await foot()) > 50, "the foot pressure is there");
    expect(await foot()).toBeLessThanOrEqual(61);
  });

  it("pops the parking control out, warns before, and says so aloud, when the tanks are drained", async () => {
    await press("Parking control: Push in");
    await until(
      async () => (await opened.page.locator(".knob-parking .state").textContent())!.includes("in:"),
      "it stays in",
    );
    await opened.page.keyboard.press("k");
    await opened.page.keyboard.press("k");
    await press("Walk round");
    for (const tank of ["Supply", "Primary", "Secondary"]) await press(`Drain: ${tank}`);
    await press("Cab");
    await press("60 ×");
    const low = opened.page.locator(".cab .telltale", { hasText: "Low air" });
    await until(async () => (await low.textContent())!.includes("on"), "the lamp lights");
    expect(await opened.page.locator(".cab .telltale", { hasText: "Buzzer" }).textContent()).toContain("sounding");
    await until(
      async () => (await opened.page.locator(".knob-parking .state").textContent())!.includes("out"),
      "it pops",
    );
    await press("Live");
    await press("Parking control: Push in");
    await opened.page.waitForTimeout(400);
    expect(await opened.page.locator(".knob-parking .state").textContent()).toContain("out");
  }, 90_000);

  it("freezes, goes one tick on, and lives again", async () => {
    await press("Freeze");
    await opened.page.waitForTimeout(300);
    const frozen = await modelTime();
    await opened.page.waitForTimeout(400);
    expect(await modelTime()).toBe(frozen);
    await press("One tick");
    await until(async () => (await modelTime()) !== frozen, "one tick passes");
    const hundredths = (text: string | null) =>
      Number(text!.split(":")[0]) * 6000 + Number(text!.split(":")[1]!.replace(".", ""));
    expect(hundredths(await modelTime()) - hundredths(frozen)).toBe(1);
    await press("Live");
    const live = await modelTime();
    await until(async () => (await modelTime()) !== live, "time runs again");
  });

  it("stops model time while the page is hidden and does not jump when it comes back", async () => {
    const clock = async () => {
      const [minutes, rest] = (await modelTime())!.split(":");
      return Number(minutes) * 60 + Number(rest);
    };
    const before = await clock();
    // Nothing can hide a headless page for real; without animation frames it is in the same position.
    await opened.page.evaluate(() => {
      const real = window.requestAnimationFrame;
      window.requestAnimationFrame = (f) => window.setTimeout(() => real(f), 3000);
    });
    await opened.page.waitForTimeout(3500);
    expect((await clock()) - before).toBeLessThan(1.2);
  });

  it("changes units everywhere, and keeps the pressure", async () => {
    const psi = await needle("primary");
    await opened.page.keyboard.press("u");
    await until(async () => (await needle("primary")) > 400, "kPa are shown");
    expect(Math.abs((await needle("primary")) / 6.894757 - psi)).toBeLessThan(4);
    await opened.page.keyboard.press("u");
    await until(async () => (await needle("primary")) < 20, "bar are shown");
    expect(await opened.page.locator(".pedal .application").textContent()).toContain("bar");
    await opened.page.keyboard.press("u");
  });

  it("hides what a driver could not know", async () => {
    await press(/Inside the picture/);
    expect(await opened.page.locator(".picture.still").count()).toBe(1);
    const seen = await opened.page
      .locator(".picture .only-truth")
      .evaluateAll((all) => all.filter((e) => getComputedStyle(e).visibility !== "hidden").length);
    expect(seen).toBe(0);
    expect(await opened.page.locator(".dial .foot").count()).toBe(0);
    expect(await opened.page.locator(".line-chamber").count()).toBe(0);
    await press(/Inside the picture/);
  });

  it("saves the run as a file that names vehicle, start and every control", async () => {
    await press("Pedal 20");
    await opened.page.waitForTimeout(500);
    const [download] = await Promise.all([opened.page.waitForEvent("download"), press("Save run")]);
    const stream = await download.createReadStream();
    let text = "";
    for await (const part of stream) text += part;
    const run = JSON.parse(text);
    expect(run.format).toBe("brakeyard-run");
    expect(run.vehicle).toEqual({ fleet: fleet[0]!.id });
    expect(run.controls.some((c: { control: string }) => c.control === "pedal")).toBe(true);
  });
});

describe("vehicles", () => {
  it("opens each of the fleet from the list", async () => {
    for (const { title } of fleet) {
      await opened.page.keyboard.press("v");
      await opened.page.locator(".fleet button", { hasText: title }).first().click();
      await until(async () => (await opened.page.locator(".field.vehicle b").textContent()) === title, `${title} runs`);
      await opened.page.locator(".picture").waitFor();
    }
    expect(opened.errors).toEqual([]);
  });

  it("takes a file of one's own, by choosing and by dropping", async () => {
    const own = fleet[0]!.vehicle().replace(/"title": "[^"]*"/, '"title": "My own bus"');
    const file = path.join(tmpdir(), `brakeyard-own-${process.pid}.json`);
    writeFileSync(file, own);
    await opened.page.keyboard.press("v");
    await opened.page.locator("input[type=file]").setInputFiles(file);
    await until(async () => (await opened.page.locator(".field.vehicle b").textContent()) === "My own bus", "it runs");
    const dropped = await opened.page.evaluateHandle(
      (content) => {
        const data = new DataTransfer();
        data.items.add(new File([content], "dropped.json"));
        return data;
      },
      own.replace("My own bus", "A dropped bus"),
    );
    await opened.page.dispatchEvent("body", "drop", { dataTransfer: dropped });
    await until(
      async () => (await opened.page.locator(".field.vehicle b").textContent()) === "A dropped bus",
      "it runs",
    );
  });

  it("refuses a bad file with place, fault and remedy, and the running vehicle stays as it was", async () => {
    const before = await needle("primary");
    const time = await modelTime();
    const bad = fleet[0]!.vehicle().replace(/"kind": "bus"/, '"kind": "boat"');
    await opened.page.keyboard.press("v");
    await opened.page
      .locator("input[type=file]")
      .setInputFiles({ name: "boat.json", mimeType: "application/json", buffer: Buffer.from(bad) });
    const dialog = opened.page.getByRole("dialog", { name: "boat.json was not taken" });
    await dialog.waitFor();
    expect(await dialog.locator(".path").first().textContent()).toContain("$.kind");
    expect(await dialog.textContent()).toContain("What would be right");
    await dialog.getByRole("button", { name: "Close" }).click();
    expect(await opened.page.locator(".field.vehicle b").textContent()).toBe(fleet[0]!.title);
    expect(await needle("primary")).toBeGreaterThanOrEqual(before - 1);
    await until(async () => (await modelTime())! > time!, "time goes on");
  });

  it("refuses fifty megabytes of noise at once", async () => {
    await opened.page.keyboard.press("v");
    const noise = path.join(tmpdir(), `brakeyard-noise-${process.pid}.json`);
    writeFileSync(noise, Buffer.alloc(50 * 1024 * 1024, "x"));
    await opened.page.locator("input[type=file]").setInputFiles(noise);
    await opened.page.getByRole("dialog", { name: /was not taken/ }).waitFor();
    expect(await opened.page.locator(".problems").textContent()).toContain("2 MB");
  });
});

describe("keyboard alone", () => {
  it("parks, presses, latches, starts and stops the engine", async () => {
    const page = opened.page;
    await page.keyboard.press("p");
    await until(async () => (await page.locator(".knob-parking .state").textContent())!.includes("in:"), "parking in");
    await page.keyboard.press("6");
    const foot = async () => Number(await page.locator(".pedal .application output").textContent());
    await until(async () => (await foot()) > 40, "the pedal is down");
    await page.keyboard.press("l");
    await until(async () => (await foot()) < 5, "unlatched, it comes up");
    await page.keyboard.down(" ");
    await until(async () => (await foot()) > 40, "held down");
    await page.keyboard.up(" ");
    await until(async () => (await foot()) < 5, "let go");
    await page.keyboard.press("k");
    await until(
      async () => (await page.locator(".engine-speed").textContent())!.includes("stopped"),
      "the engine stops",
    );
    await page.keyboard.press("k");
    await page.keyboard.down("s");
    await until(async () => /[67]\d0/.test((await page.locator(".engine-speed").textContent())!), "the engine starts");
    await page.keyboard.up("s");
    await page.keyboard.press("]");
    await until(async () => (await page.locator(".engine-speed").textContent())!.includes("fast idle"), "fast idle");
  }, 90_000);

  it("reaches every control by Tab, and shows where it is", async () => {
    const reached = new Set<string>();
    for (let i = 0; i < 60; i += 1) {
      await opened.page.keyboard.press("Tab");
      const at = await opened.page.evaluate(() => {
        const e = document.activeElement as HTMLElement;
        return {
          name: e.getAttribute("aria-label") ?? e.textContent ?? "",
          outline: getComputedStyle(e).outlineStyle,
          tag: e.tagName,
        };
      });
      if (at.tag !== "BUTTON") continue;
      expect(at.outline).not.toBe("none");
      reached.add(at.name);
    }
    for (const name of [
      "Press more",
      "Press less",
      "Pedal Full",
      "Parking control: Push in",
      "Parking control: Pull out",
      "Start",
      "Freeze",
      "Reset",
    ]) {
      expect(
        [...reached].some((r) => r.includes(name)),
        name,
      ).toBe(true);
    }
  });

  it("lists its keys on ?", async () => {
    await opened.page.keyboard.press("?");
    await opened.page.getByRole("dialog", { name: "Keys" }).waitFor();
    await opened.page.keyboard.press("Escape");
    expect(await opened.page.getByRole("dialog").count()).toBe(0);
  });
});
