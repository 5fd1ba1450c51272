import { useLive } from "../live/live.ts";
import { text } from "../text/text.ts";
import { settings, type UnitName } from "./settings.ts";

const UNITS: UnitName[] = ["psi", "kPa", "bar"];

export function nextUnit(): void {
  settings.unit.value = UNITS[(UNITS.indexOf(settings.unit.value) + 1) % UNITS.length]!;
}

export function otherTheme(): void {
  settings.theme.value = settings.theme.value === "dark" ? "light" : "dark";
}

/** Title block of the sheet: each field is a button. */
export function Header({ onVehicles, onKeys }: { onVehicles: () => void; onKeys: () => void }) {
  const live = useLive();
  const vehicle = live.vehicle.value;
  const { truth, unit, theme } = settings;
  return (
    <header class="title-block">
      <h1>{text.name}</h1>
      <div class="fields">
        <button type="button" class="field vehicle" aria-haspopup="dialog" onClick={onVehicles}>
          <span>
            {text.header.vehicle}
            {vehicle && vehicle.allValues > 0 ? (
              <em> · {text.header.typical(vehicle.typicalValues, vehicle.allValues)}</em>
            ) : null}
          </span>
          <b>{vehicle?.title ?? text.opening}</b>
        </button>
        <button
          type="button"
          class="field"
          aria-pressed={truth.value}
          onClick={() => {
            truth.value = !truth.value;
          }}
        >
          <span>{text.header.figures}</span>
          <b>{truth.value ? text.header.figuresOn : text.header.figuresOff}</b>
        </button>
        <button type="button" class="field" onClick={nextUnit}>
          <span>{text.header.units}</span>
          <b>{unit}</b>
        </button>
        <button type="button" class="field" onClick={otherTheme}>
          <span>{text.header.theme}</span>
          <b>{theme.value === "dark" ? text.header.dark : text.header.light}</b>
        </button>
        <button type="button" class="field single save" onClick={() => live.saveRun()}>
          <b>{text.header.saveRun}</b>
        </button>
        <button type="button" class="field single" aria-haspopup="dialog" aria-label={text.keys.title} onClick={onKeys}>
          <b>?</b>
        </button>
      </div>
    </header>
  );
}
