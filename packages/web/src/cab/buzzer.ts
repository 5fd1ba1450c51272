import { effect } from "@preact/signals";
import type { Instruments } from "../live/instruments.ts";
import { settings } from "../page/settings.ts";

const PITCH_HZ = 880;
const LOUDNESS = 0.12;
const FADE_S = 0.01;

/** The low-air buzzer, heard while its reading is on and somebody has allowed sound. Plain nodes: works over http too. */
export function soundBuzzer(instruments: Instruments, running: () => boolean): () => void {
  let context: AudioContext | null = null;
  let gain: GainNode | null = null;
  const on = instruments.watch("buzzer.lowAir", 1);
  const stop = effect(() => {
    const heard = settings.sound.value && on.value === 1 && running();
    if (heard && !context) {
      context = new AudioContext();
      gain = context.createGain();
      gain.gain.value = 0;
      const tone = context.createOscillator();
      tone.type = "square";
      tone.frequency.value = PITCH_HZ;
      tone.connect(gain).connect(context.destination);
      tone.start();
    }
    if (context && gain) gain.gain.setTargetAtTime(heard ? LOUDNESS : 0, context.currentTime, FADE_S);
  });
  return () => {
    stop();
    void context?.close();
  };
}
