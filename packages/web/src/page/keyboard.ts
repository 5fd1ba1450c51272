import type { Driver } from "../cab/driver.ts";
import { pedalSteps } from "../cab/pedal.ts";
import type { LiveClient } from "../live/client.ts";
import { text } from "../text/text.ts";
import { nextUnit } from "./Header.tsx";
import { settings } from "./settings.ts";

interface Doors {
  vehicles: () => void;
  keys: () => void;
}

/** Keys act on the whole page unless a dialog is open, a modifier is held, or something takes typing. */
function isElsewhere(event: KeyboardEvent): boolean {
  const target = event.target as HTMLElement;
  return event.ctrlKey || event.metaKey || event.altKey || !!target.closest?.("dialog, input, textarea, select");
}

/** Wires the keyboard. Returns how to take it off again. */
export function listenToKeys(live: LiveClient, driver: Driver, doors: Doors): () => void {
  const down = keysDown(live, driver, doors);
  const up: Record<string, () => void> = {
    " ": () => driver.liftOff(),
    s: () => driver.set("starter", 0),
    p: () => driver.letGo("parking"),
    t: () => driver.letGo("trailerSupply"),
  };
  const onDown = (event: KeyboardEvent) => {
    if (isElsewhere(event) || event.repeat) return;
    // A focused button keeps its own space bar.
    if (event.key === " " && (event.target as HTMLElement).tagName === "BUTTON") return;
    const action = down[event.key.toLowerCase()];
    if (!action) return;
    event.preventDefault();
    action();
  };
  const onUp = (event: KeyboardEvent) => {
    if (!isElsewhere(event)) up[event.key.toLowerCase()]?.();
  };
  addEventListener("keydown", onDown);
  addEventListener("keyup", onUp);
  return () => {
    removeEventListener("keydown", onDown);
    removeEventListener("keyup", onUp);
  };
}

function keysDown(live: LiveClient, driver: Driver, doors: Doors): Record<string, () => void> {
  const step = (i: number) => () => {
    const pedal = driver.info("pedal");
    if (pedal) driver.press(pedalSteps(pedal, settings.unit.value, text.cab.full)[i]!.travel);
  };
  const pushPull = (control: string) => () =>
    live.instruments.last(`control.${control}`) > 0.5 ? driver.pullOut(control) : driver.pushIn(control);
  const pace = (p: number) => () => live.setPace(live.pace.value === p ? 1 : p);
  return {
    " ": () => driver.pressLast(),
    "0": step(0),
    "2": step(1),
    "6": step(2),
    "9": step(3),
    "-": () => driver.nudge("pedal", false),
    "+": () => driver.nudge("pedal", true),
    "=": () => driver.nudge("pedal", true),
    l: () => driver.toggleLatch(),
    p: pushPull("parking"),
    t: pushPull("trailerSupply"),
    k: () => driver.toggle("key"),
    s: () => driver.set("starter", 1),
    "[": () => driver.engine(false),
    "]": () => driver.engine(true),
    c: () => driver.toggle("chocks"),
    f: pace(0),
    ".": () => live.oneTick(),
    "1": pace(0.1),
    "3": pace(10),
    r: () => live.reset(),
    v: doors.vehicles,
    u: nextUnit,
    d: () => {
      settings.truth.value = !settings.truth.value;
    },
    "?": doors.keys,
  };
}
