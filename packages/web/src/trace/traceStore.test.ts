import { describe, expect, it } from "vitest";
import { TraceStore } from "./traceStore.ts";

const rows = (from: number, count: number) =>
  Float64Array.from({ length: count * 2 }, (_, i) => (i % 2 === 0 ? from + i / 2 : (from + (i - 1) / 2) * 10));

describe("the trace store", () => {
  it("keeps what it was given and hands out a window of it", () => {
    const store = new TraceStore(1);
    store.add(rows(0, 1000));
    const [time, value] = store.window(5, 10_000) as [number[], number[]];
    expect(time[0]).toBe(5);
    expect(time.at(-1)).toBe(9.99);
    expect(value[0]).toBe(5000);
    expect(time.length).toBe(500);
  });

  it("leaves out rows evenly when there are more than points, but never the last", () => {
    const store = new TraceStore(1);
    store.add(rows(0, 5003));
    const [time] = store.window(0, 100) as [number[], number[]];
    expect(time.length).toBeLessThanOrEqual(102);
    expect(time.at(-1)).toBe(50.02);
  });

  it("picks the same rows while the window moves on", () => {
    const store = new TraceStore(1);
    store.add(rows(0, 4000));
    const before = new Set((store.window(10, 100) as [number[], number[]])[0].slice(0, -1));
    store.add(rows(4000, 7));
    const after = (store.window(10.07, 100) as [number[], number[]])[0].slice(0, -1);
    expect(after.filter((t) => t < 39 && !before.has(t))).toEqual([]);
  });

  it("thins the older half when it is full, and stays in order", () => {
    const store = new TraceStore(1);
    for (let i = 0; i < 26; i += 1) store.add(rows(i * 10_000, 10_000));
    expect(store.length).toBeLessThanOrEqual(120_000);
    const [time] = store.window(0, 1e9) as [number[], number[]];
    expect(time[0]).toBe(0);
    expect(time.at(-1)).toBe(2599.99);
    for (let i = 1; i < time.length; i += 1) expect(time[i]!).toBeGreaterThan(time[i - 1]!);
  });

  it("forgets everything on reset", () => {
    const store = new TraceStore(1);
    store.add(rows(0, 10));
    store.flag(0.05, "x");
    store.clear();
    expect(store.length).toBe(0);
    expect(store.flags).toEqual([]);
    expect(store.lastTime()).toBe(0);
  });
});
