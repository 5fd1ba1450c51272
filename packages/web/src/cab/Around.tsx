import { useLive } from "../live/live.ts";
import { tankName } from "../picture/names.ts";
import type { SchematicPart } from "../picture/schematic.ts";
import { text } from "../text/text.ts";
import type { Driver } from "./driver.ts";
import { HandValve } from "./Knobs.tsx";

interface Item {
  control: string;
  name: string;
  off: string;
  on: string;
}

/** Controls that lie outside the cab: chocks, drains, loads, couplings and cocks. One large switch for each. */
export function Around({ driver }: { driver: Driver }) {
  const live = useLive();
  const controls = live.vehicle.value?.controls.map((c) => c.id) ?? [];
  const chocks: Item = {
    control: "chocks",
    name: text.around.chocks,
    off: text.around.chocksOut,
    on: text.around.chocksIn,
  };
  const items = controls.map((id) => itemOf(id, live.vehicle.value?.schematic.parts ?? [])).filter((i) => i !== null);
  return (
    <section class="around" aria-label={text.around.label}>
      <HandValve driver={driver} />
      {items.length === 0 ? <p>{text.around.nothing}</p> : null}
      {[...(driver.has("chocks") ? [chocks] : []), ...items].map((item) => {
        const on = (live.set.value[item.control] ?? 0) > 0.5;
        return (
          <button
            key={item.control}
            type="button"
            class={`key item item-${item.control}`}
            aria-pressed={on}
            onClick={() => driver.toggle(item.control)}
          >
            <span class="item-name">{item.name}</span>
            <span class="item-state">{on ? item.on : item.off}</span>
          </button>
        );
      })}
      <p class="caution-line">
        {text.caution.short} {text.caution.long}
      </p>
    </section>
  );
}

const COUPLINGS: Record<string, Item> = {
  "coupling.supply": {
    control: "coupling.supply",
    name: text.around.supply,
    off: text.around.coupled,
    on: text.around.parted,
  },
  "coupling.service": {
    control: "coupling.service",
    name: text.around.service,
    off: text.around.coupled,
    on: text.around.parted,
  },
  "coupling.crossed": {
    control: "coupling.crossed",
    name: text.around.crossed,
    off: text.around.straight,
    on: text.around.isCrossed,
  },
};

function itemOf(id: string, parts: readonly SchematicPart[]): Item | null {
  if (COUPLINGS[id]) return COUPLINGS[id];
  const [family, ...rest] = id.split(".");
  const tail = rest.join(".");
  const part = parts.find((p) => p.id === tail || p.id === id);
  const label = part?.kind === "reservoir" ? tankName(part) : (part?.label ?? spaced(tail || id));
  if (family === "drain")
    return { control: id, name: text.around.drain(label), off: text.around.shut, on: text.around.open };
  if (family === "cock")
    return { control: id, name: `${text.around.cocks}: ${label}`, off: text.around.open, on: text.around.shut };
  if (parts.some((p) => p.id === id && p.kind === "auxiliaryLoad"))
    return { control: id, name: label, off: text.around.idle, on: text.around.using };
  return null;
}

/** `airSprings` as `Air springs`. */
function spaced(id: string): string {
  const words = id
    .replace(/[.-]/g, " ")
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase();
  return words.charAt(0).toUpperCase() + words.slice(1);
}
