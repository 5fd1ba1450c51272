import { useEffect, useRef, useState } from "preact/hooks";
import type { OpenVehicle } from "../live/contract.ts";
import { Picture } from "../picture/Picture.tsx";
import { text } from "../text/text.ts";
import { settings } from "./settings.ts";

interface Size {
  w: number;
  h: number;
}

/** Steps of the sheet's size, so that a window that is being dragged does not draw anew at every pixel. */
const STEP = 6;

/** The drawing sheet: zones on its edge and the picture, composed for the room there is. */
export function Sheet({ vehicle }: { vehicle: OpenVehicle }) {
  const view = settings.view.value;
  const scrolls = matchMedia("(max-width: 699.9px)").matches;
  const place = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<Size | null>(null);
  useEffect(() => {
    const box = place.current!;
    const measure = () => {
      const scale = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
      const w = Math.floor(box.clientWidth / scale / STEP) * STEP;
      const h = Math.floor(box.clientHeight / scale / STEP) * STEP;
      // On a phone the drawing is as high as it needs to be.
      if (w > 0 && (h > 0 || w < 620)) setSize((old) => (old && old.w === w && old.h === h ? old : { w, h }));
    };
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(box);
    return () => watch.disconnect();
  }, []);
  useEffect(() => {
    const sheet = place.current?.parentElement;
    if (view === "air") sheet?.scrollTo(0, 0);
    if (view === "wheels") sheet?.querySelector(".wheels-anchor")?.scrollIntoView();
  }, [view]);
  return (
    <section class="sheet" aria-label={text.picture.sheet} tabIndex={scrolls ? 0 : undefined}>
      <Zones />
      <div class="drawing" ref={place}>
        {size ? <Picture key={vehicle.title} vehicle={vehicle} widthPx={size.w} heightPx={size.h} /> : null}
      </div>
      <Legend />
    </section>
  );
}

const PATTERNS = ["supply", "primary", "secondary", "parking"] as const;

/** What the patterns mean. Only what is on the sheet in front of the reader. */
function Legend() {
  return (
    <div class="legend">
      {PATTERNS.map((circuit) => (
        <span key={circuit}>
          <svg class={`c-${circuit}`} viewBox="0 0 36 12" aria-hidden="true">
            <path class="pipe" d="M0,6 H36" />
            <path class="core" d="M0,6 H36" />
            <path class="marks" d="M5,6 H36" />
          </svg>
          {text.picture.circuits[circuit]}
        </span>
      ))}
      <span>
        <svg class="is-signal c-supply" viewBox="0 0 36 12" aria-hidden="true">
          <path class="pipe" d="M0,6 H36" />
        </svg>
        {text.picture.legend.signal}
      </span>
      <span>
        <svg viewBox="0 0 36 12" aria-hidden="true">
          <path class="chevrons" d="M4,0.6 L16,6 L4,11.4 L7,6 Z M20,0.6 L32,6 L20,11.4 L23,6 Z" />
        </svg>
        {text.picture.legend.moving}
      </span>
      <span>
        <b>{text.picture.tilde}</b> {text.picture.legend.typical}
      </span>
      <span class="caution">{text.picture.caution}</span>
    </div>
  );
}

/** Letters and numbers on the edge, so that a room can be told to look at C4. */
function Zones() {
  return (
    <>
      <div class="zones-x" aria-hidden="true">
        {[1, 2, 3, 4, 5, 6, 7, 8].map((n) => (
          <span key={n}>{n}</span>
        ))}
      </div>
      {["left", "right"].map((side) => (
        <div key={side} class={`zones-y ${side}`} aria-hidden="true">
          {["A", "B", "C", "D"].map((n) => (
            <span key={n}>{n}</span>
          ))}
        </div>
      ))}
    </>
  );
}
