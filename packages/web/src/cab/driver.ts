import { signal } from "@preact/signals";
import type { LiveClient } from "../live/client.ts";
import type { ControlInfo } from "../live/contract.ts";
import { settings } from "../page/settings.ts";
import { text } from "../text/text.ts";
import { nudged, pedalSteps } from "./pedal.ts";

/** The person in the cab: what their hands and feet do to the controls. Every action is a plain setting of a control. */
export class Driver {
  readonly latch = signal(true);
  /** Step that the space bar presses. */
  private lastTravel: number | null = null;
  private readonly live: LiveClient;

  constructor(live: LiveClient) {
    this.live = live;
  }

  has(control: string): boolean {
    return this.info(control) !== undefined;
  }

  info(control: string): ControlInfo | undefined {
    return this.live.vehicle.value?.controls.find((c) => c.id === control);
  }

  at(control: string): number {
    return this.live.set.value[control] ?? 0;
  }

  set(control: string, value: number): void {
    this.live.control(control, value);
  }

  toggle(control: string): void {
    this.set(control, this.at(control) > 0.5 ? 0 : 1);
  }

  /** Puts the pedal to a travel; without the latch it comes back when the finger leaves. */
  press(travel: number): void {
    if (travel > 0) this.lastTravel = travel;
    this.set("pedal", travel);
  }

  liftOff(): void {
    if (!this.latch.value) this.set("pedal", 0);
  }

  pressLast(): void {
    const pedal = this.info("pedal");
    if (!pedal) return;
    this.press(this.lastTravel ?? pedalSteps(pedal, settings.unit.value, text.cab.full)[1]!.travel);
  }

  nudge(control: "pedal" | "handValve", up: boolean): void {
    const info = this.info(control);
    if (!info) return;
    const next = info.curve
      ? nudged(info, settings.unit.value, this.at(control), up)
      : Math.min(info.maximum, Math.max(info.minimum, this.at(control) + (up ? 0.1 : -0.1)));
    if (control === "pedal") this.press(next);
    else this.set(control, next);
  }

  toggleLatch(): void {
    this.latch.value = !this.latch.value;
    if (!this.latch.value) this.set("pedal", 0);
  }

  /** Pushes a control in and holds it while the hand is on it. Below its hold-in pressure it will not stay. */
  pushIn(control: string): void {
    this.set(`hold.${control}`, 1);
    this.set(control, 1);
  }

  letGo(control: string): void {
    this.set(`hold.${control}`, 0);
  }

  pullOut(control: string): void {
    this.letGo(control);
    this.set(control, 0);
  }

  /** One engine speed up or down. */
  engine(up: boolean): void {
    const steps = this.live.vehicle.value?.engineSpeedsRpm ?? [];
    const now = this.at("throttle");
    const next = up ? steps.find((s) => s > now + 1) : [...steps].reverse().find((s) => s < now - 1);
    if (next !== undefined) this.set("throttle", next);
  }
}
