import { createContext } from "preact";
import { useContext, useEffect } from "preact/hooks";
import type { LiveClient } from "./client.ts";
import type { Painter } from "./instruments.ts";

export const LiveContext = createContext<LiveClient | null>(null);

/** The line to the running vehicle. */
export function useLive(): LiveClient {
  const live = useContext(LiveContext);
  if (!live) throw new Error("useLive needs a LiveContext above it");
  return live;
}

/** Runs a painter with each frame as long as the component stands. */
export function usePainter(make: () => Painter, inputs: readonly unknown[]): void {
  const { instruments } = useLive();
  useEffect(() => instruments.paint(make()), [instruments, ...inputs]);
}
