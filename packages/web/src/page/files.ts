import type { LiveClient, Refusal } from "../live/client.ts";
import { text } from "../text/text.ts";

const MOST_BYTES = 2 * 1024 * 1024;

/** Hands chosen or dropped files to the worker. */
export async function openFiles(live: LiveClient, files: readonly File[]): Promise<void> {
  if (files.length === 0) return;
  const name = files.map((f) => f.name).join(" + ");
  const refusal = tooMuch(name, files);
  if (refusal) {
    live.refusal.value = refusal;
    return;
  }
  try {
    const texts = await Promise.all(files.map((f) => f.text()));
    live.open({ from: "file", name, texts });
  } catch {
    live.refusal.value = refused(name, text.vehicles.unreadable, text.vehicles.unreadableRemedy);
  }
}

function tooMuch(name: string, files: readonly File[]): Refusal | null {
  if (files.length > 2) return refused(name, text.vehicles.tooMany, text.vehicles.tooManyRemedy);
  if (files.some((f) => f.size > MOST_BYTES)) return refused(name, text.vehicles.tooBig, text.vehicles.tooBigRemedy);
  return null;
}

function refused(name: string, message: string, remedy: string): Refusal {
  return { name, problems: [{ path: name, message, remedy }] };
}

/** Lets the browser store a text as a file. */
export function saveFile(name: string, content: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([content], { type: "application/json" }));
  link.download = name;
  link.click();
  URL.revokeObjectURL(link.href);
}
