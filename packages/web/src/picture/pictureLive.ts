import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Instruments } from "../live/instruments.ts";
import { completed } from "./complete.ts";
import type { Schematic, SchematicPart } from "./schematic.ts";

/** Mass flow below which air is not drawn as moving, kg/s. A brake application passes some 0.05 kg/s. */
export const STILL_FLOW = 2e-5;

/** What the symbols need to know beyond their own part. */
export class PictureLive {
  readonly instruments: Instruments;
  readonly schematic: Schematic;
  private readonly flowOf = new Map<string, number>();

  constructor(instruments: Instruments, schematic: Schematic) {
    this.instruments = instruments;
    this.schematic = completed(schematic);
    for (const line of this.schematic.lines) this.flowOf.set(line.id, instruments.index(line.flow));
  }

  flowIndex(line: string): number {
    return this.flowOf.get(line) ?? -1;
  }

  /** Channels of all flows out of a part's delivery ports (2, 21, 22 ...). */
  delivered(part: SchematicPart, port = "2"): number[] {
    return this.schematic.lines
      .filter((l) => l.from.part === part.id && l.from.port.startsWith(port))
      .map((l) => this.flowIndex(l.id))
      .filter((i) => i >= 0);
  }

  /** Channel of the pressure at a port. */
  pressure(part: SchematicPart, port: string): string | undefined {
    const own = part.ports[port]?.pressure;
    if (this.instruments.has(own)) return own;
    const line = this.schematic.lines.find(
      (l) => (l.from.part === part.id && l.from.port === port) || (l.to.part === part.id && l.to.port === port),
    );
    return this.instruments.has(line?.pressure) ? line?.pressure : undefined;
  }
}

export const PictureContext = createContext<PictureLive | null>(null);

export function usePicture(): PictureLive {
  const live = useContext(PictureContext);
  if (!live) throw new Error("usePicture needs a PictureContext above it");
  return live;
}
