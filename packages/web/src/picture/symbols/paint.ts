import type { RefObject } from "preact";
import { usePainter } from "../../live/live.ts";
import { STILL_FLOW, usePicture } from "../pictureLive.ts";
import type { SchematicPart } from "../schematic.ts";

type Target = RefObject<Element | null>;

/** Puts the class `moving` on a symbol while air passes it. */
export function useMoving(target: Target, part: SchematicPart): void {
  const picture = usePicture();
  usePainter(() => {
    const flows = picture.delivered(part);
    let was = false;
    return (values) => {
      let moving = false;
      for (const i of flows) if (Math.abs(values[i]!) > STILL_FLOW) moving = true;
      if (moving !== was) target.current?.classList.toggle("moving", moving);
      was = moving;
    };
  }, [part]);
}

/** Calls `apply` with the channel's value whenever it has moved by at least `step`. */
export function useValue(channel: string | undefined, step: number, apply: (value: number) => void): void {
  const { instruments } = usePicture();
  usePainter(() => {
    const index = instruments.index(channel);
    let shown = Number.NaN;
    return (values) => {
      if (index < 0) return;
      const next = Math.round(values[index]! / step);
      if (next === shown) return;
      shown = next;
      apply(next * step);
    };
  }, [channel]);
}
