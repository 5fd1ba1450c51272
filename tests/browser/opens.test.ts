import { afterAll, beforeAll, expect, it } from "vitest";
import { type Opened, openPage } from "./yard-page.ts";

let opened: Opened;

beforeAll(async () => {
  opened = await openPage();
});

afterAll(() => opened?.close());

it("opens without an error and asks nobody else for anything", async () => {
  await opened.page.getByText("Brakeyard").first().waitFor();
  expect(await opened.page.title()).toContain("Brakeyard");
  expect(opened.errors).toEqual([]);
  expect(opened.strangers).toEqual([]);
});
