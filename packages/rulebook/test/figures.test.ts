import { describe, expect, it } from "vitest";
import { type Figure, figureNumber, publishedIds, publishedRulebook } from "../src/index.ts";

const figures = publishedIds.flatMap((id) => publishedRulebook(id).figures);

function figure(id: string): Figure {
  const found = figures.find((one) => one.id === id);
  if (!found) throw new Error(`no figure ${id}`);
  return found;
}

describe("numbers of the figures, SI", () => {
  it.each([
    ["121.S5.4.2", "decelerations", 10, 10, "from memory"],
    ["121.S5.4.2", "fromSpeed", 22.352, 22.352, "from memory"],
    ["121.S5.4.2.2", "deceleration", 4.2672, 4.2672, "read"],
    ["121.S5.4.2.2", "fromSpeed", 8.9408, 8.9408, "from memory"],
    ["121.TableV/30", "ratedVolume", 0.001458449, 0.001458449, "from memory"],
    ["121.TableV/30", "fullStroke", 0.0635, 0.08128, "from memory"],
    ["121.Figure1", "reservoir", 0.016387064, 0.016387064, "read"],
    ["396A.a5", "reservoirPressure", 551580.6, 620528.2, "read"],
    ["121.S6.1", "brakeTemperature", 338.7056, 366.4833, "from memory"],
    ["manual.total-distance", "total", 137.16, Number.POSITIVE_INFINITY, "read"],
    ["ontario.stroke", "bothGauges", 621000, 690000, "read"],
    ["R13.A4.typeI/N2-N3", "applications", 20, 20, "read"],
    ["R13.A4.typeI/M2", "cycle", 55, 55, "read"],
    ["R13.A4.typeII", "slope", 0.06, 0.06, "from memory"],
    ["R13.A4.mfdd", "divisor", 25.92, 25.92, "read"],
  ] as const)("%s %s", (id, key, low, high, status) => {
    const found = figureNumber(figure(id), key);
    expect(found.status).toBe(status);
    expect(Math.abs(found.low / low - 1)).toBeLessThan(1e-6);
    expect(found.high === high || Math.abs(found.high / high - 1) < 1e-6).toBe(true);
  });

  it("is refused for what is no number, with what there is", () => {
    expect(() => figureNumber(figure("396A.a5"), "engine")).toThrow(/it has engine, reservoirPressure, application/);
    expect(() => figureNumber(figure("396A.a5"), "constructor")).toThrow(RangeError);
  });
});
