import { figure } from "../../live/figures.ts";
import { nameOf } from "../names.ts";
import { usePicture } from "../pictureLive.ts";
import type { SymbolProps } from "./symbolProps.ts";
import { NAMED_FROM, TANK_TEXT } from "./tankWidth.ts";

/** A tank, drawn as a capsule: name and pressure inside where there is room. */
export function Tank({ placed, part }: SymbolProps) {
  const picture = usePicture();
  const { box } = placed;
  const pressure = figure(picture.instruments, part.channels.pressure ?? picture.pressure(part, "2"), "pressure");
  const named = box.w > NAMED_FROM;
  const inset = named ? box.h / 2 - 6 : 0;
  const size = placed.stance.roomy || !named ? TANK_TEXT.roomy : TANK_TEXT.close;
  return (
    <g class={`c-${part.circuit}`} transform={`translate(${box.x} ${box.y})`}>
      <rect class="tank" x={1.25} y={1.25} width={box.w - 2.5} height={box.h - 2.5} rx={box.h / 2 - 1} />
      {named ? (
        <text class="tank-name" x={inset} y={box.h / 2 + 5} font-size={size.name}>
          {nameOf(part, picture.schematic)}
        </text>
      ) : null}
      <text
        class="fig only-truth"
        x={named ? box.w - inset + 4 : box.w / 2}
        y={box.h / 2 + 10}
        font-size={size.figure}
        text-anchor={named ? "end" : "middle"}
      >
        {pressure}
      </text>
    </g>
  );
}
