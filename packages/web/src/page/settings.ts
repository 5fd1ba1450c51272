import { effect, signal } from "@preact/signals";

export type UnitName = "psi" | "kPa" | "bar";
export type Theme = "light" | "dark";
/** What the area below or beside the picture shows where there is no room for all. */
export type View = "air" | "wheels" | "traces" | "cab" | "around";

const STORE = "brakeyard.settings";

function stored(): Record<string, unknown> {
  try {
    return JSON.parse(localStorage.getItem(STORE) ?? "{}") as Record<string, unknown>;
  } catch {
    return {}; // Storage may be forbidden or damaged; the settings then start afresh.
  }
}

const saved = stored();
const prefersDark = () => matchMedia("(prefers-color-scheme: dark)").matches;

/** What a person chose about the page. None of it changes the run. */
export const settings = {
  unit: signal<UnitName>(saved.unit === "kPa" || saved.unit === "bar" ? saved.unit : "psi"),
  theme: signal<Theme>(
    saved.theme === "dark" || saved.theme === "light" ? saved.theme : prefersDark() ? "dark" : "light",
  ),
  /** Whether the picture shows what is true inside, or only what a driver could know. */
  truth: signal(saved.truth !== false),
  /** The buzzer is heard only after someone allowed it on this page. */
  sound: signal(false),
  view: signal<View>(matchMedia("(max-width: 699.9px)").matches ? "air" : "cab"),
};

export function keepSettings(): void {
  effect(() => {
    const { unit, theme, truth } = settings;
    const text = JSON.stringify({ unit: unit.value, theme: theme.value, truth: truth.value });
    document.documentElement.dataset.theme = theme.value;
    try {
      localStorage.setItem(STORE, text);
    } catch {
      // Nothing depends on it.
    }
  });
}
