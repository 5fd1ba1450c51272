import { useMemo } from "preact/hooks";
import type { OpenVehicle } from "../live/contract.ts";
import { figure } from "../live/figures.ts";
import { useLive } from "../live/live.ts";
import { settings } from "../page/settings.ts";
import { text } from "../text/text.ts";
import { Flow } from "./Flow.tsx";
import { layoutOf } from "./layout/layout.ts";
import type { Layout, TextBox } from "./layout/types.ts";
import { Pipes } from "./Pipes.tsx";
import { PictureContext, PictureLive, usePicture } from "./pictureLive.ts";
import { PartSymbol } from "./symbols/Symbol.tsx";

/** The air system of the open vehicle, drawn for a sheet of the given size. */
export function Picture({ vehicle, widthPx, heightPx }: { vehicle: OpenVehicle; widthPx: number; heightPx: number }) {
  const { instruments } = useLive();
  const live = useMemo(() => new PictureLive(instruments, vehicle.schematic), [instruments, vehicle]);
  const layout = useMemo(() => layoutOf(vehicle.schematic, widthPx, heightPx), [vehicle, widthPx, heightPx]);
  const still = settings.truth.value ? "" : " still";
  return (
    <PictureContext.Provider value={live}>
      <svg
        class={`picture${still}${layout.wheelsY > 0 ? " tall" : ""}`}
        viewBox={`0 0 ${layout.widthPx} ${layout.heightPx}`}
        role="img"
        aria-label={text.picture.label(vehicle.title)}
      >
        {layout.wheelsY > 0 ? <rect class="wheels-anchor" x={0} y={layout.wheelsY} width={1} height={1} /> : null}
        {layout.dividerX > 0 ? (
          <path
            class="divider"
            d={`M${layout.dividerX},0 V26 M${layout.dividerX},${layout.heightPx} V${layout.heightPx - 26}`}
          />
        ) : null}
        <Pipes pipes={layout.pipes} tees={layout.tees} />
        <Symbols layout={layout} />
        <Flow pipes={layout.pipes} />
        <Texts layout={layout} />
      </svg>
    </PictureContext.Provider>
  );
}

function Symbols({ layout }: { layout: Layout }) {
  const { schematic } = usePicture();
  return (
    <g class="symbols">
      {layout.placed.map((placed) => (
        <g key={placed.id} data-part={placed.id}>
          <PartSymbol placed={placed} part={schematic.parts.find((p) => p.id === placed.id)!} />
        </g>
      ))}
    </g>
  );
}

function Texts({ layout }: { layout: Layout }) {
  return (
    <g class="names">
      {layout.texts.map((t) => (
        <TextLines key={t.id} box={t} />
      ))}
    </g>
  );
}

function TextLines({ box }: { box: TextBox }) {
  const { instruments } = usePicture();
  const x = box.anchor === "start" ? box.x : box.anchor === "end" ? box.x + box.w : box.x + box.w / 2;
  const leading = box.h / box.lines.length;
  const base = box.y + leading * 0.78;
  if (box.kind === "figure") {
    return (
      <text class="fig only-truth" x={x} y={base} font-size={box.sizePx} text-anchor={box.anchor}>
        {figure(instruments, box.channel, "pressure")}
      </text>
    );
  }
  return (
    <text class={box.kind} x={x} y={base} font-size={box.sizePx} text-anchor={box.anchor}>
      {box.lines.map((line, i) =>
        box.state && i === box.lines.length - 1 ? (
          <tspan key={line} class="quiet" x={x} y={base + i * leading}>
            <CompressorState part={box.owner} />
          </tspan>
        ) : (
          <tspan key={line} x={x} y={base + i * leading}>
            {line}
          </tspan>
        ),
      )}
    </text>
  );
}

const TURNING_RPM = 30;

/** Pumping, unloaded or stopped; in the accent while it pumps. */
function CompressorState({ part }: { part: string }) {
  const { instruments, schematic } = usePicture();
  const channels = schematic.parts.find((p) => p.id === part)?.channels ?? {};
  const turning = instruments.watch(channels.speed, TURNING_RPM).value >= 1;
  const loaded = instruments.watch(channels.position, 1).value === 1;
  const words = text.picture.state;
  if (!turning) return <>{words.stopped}</>;
  return loaded ? <tspan class="moving-text">{words.loading}</tspan> : words.unloaded;
}
