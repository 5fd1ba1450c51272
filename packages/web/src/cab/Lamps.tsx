import type { ComponentChildren } from "preact";
import { useLive } from "../live/live.ts";
import { settings } from "../page/settings.ts";
import { text } from "../text/text.ts";

/** Low-air lamp, stop lamp and buzzer as the driver has them. On is filled, and the word changes too. */
export function Lamps() {
  const { instruments } = useLive();
  return (
    <div class="lamps">
      <Lamp channel="lamp.lowAir" name={text.cab.lowAir} warning />
      {instruments.has("buzzer.lowAir") ? <Buzzer /> : null}
      <Lamp channel="lamp.stop" name={text.cab.stopLamp} />
    </div>
  );
}

function Lamp({ channel, name, warning = false }: { channel: string; name: string; warning?: boolean }) {
  const { instruments } = useLive();
  const on = instruments.watch(channel, 1).value === 1;
  return (
    <Telltale name={name} on={on} state={on ? text.cab.on : text.cab.off} warning={warning}>
      <circle cx={14} cy={14} r={12} />
      <path d="M5.5,5.5 L22.5,22.5 M22.5,5.5 L5.5,22.5" />
    </Telltale>
  );
}

function Buzzer() {
  const { instruments } = useLive();
  const on = instruments.watch("buzzer.lowAir", 1).value === 1;
  const allowed = settings.sound.value;
  return (
    <button
      type="button"
      class="telltale-button"
      aria-pressed={allowed}
      onClick={() => {
        settings.sound.value = !allowed;
      }}
    >
      <Telltale name={text.cab.buzzer} on={on} state={on ? text.cab.sounding : text.cab.quiet} warning>
        <path d="M3,17 A11,12 0 0 1 25,17 Z M9,17 V25 M19,17 V25" />
      </Telltale>
      <span class="hint">{allowed ? text.cab.muteSound : text.cab.allowSound}</span>
    </button>
  );
}

interface TelltaleProps {
  name: string;
  state: string;
  on: boolean;
  warning: boolean;
  children: ComponentChildren;
}

function Telltale({ name, state, on, warning, children }: TelltaleProps) {
  return (
    <span class={`telltale${on ? " on" : ""}${warning ? " warning" : ""}`}>
      <svg viewBox="0 0 28 28" aria-hidden="true">
        {children}
      </svg>
      <span>
        <b>{name}</b> <span class="state">{state}</span>
      </span>
    </span>
  );
}
