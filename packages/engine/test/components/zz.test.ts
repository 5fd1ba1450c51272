import { it } from "vitest";
import { addDoubleCheckValve, addLeak, rateFlow, PSI } from "/work/main/packages/engine/src/index.ts";
import { Bench, bench, size, volume, lever } from "/work/main/packages/engine/test/components/testBench.ts";
it("x", () => {
  for (const warm of [false,true]) for (const r of [2, 5, 20, 60, 120]) {
    const net = bench({warm});
    const a = volume(net, "a", 25), b = volume(net, "b", 25), out = volume(net, "out", 0.1);
    addDoubleCheckValve(net, "dc", { first: a, second: b, outlet: out }, { size: size(6), travelPa: 0.5 * PSI });
    addLeak(net, "b", b, rateFlow({ ratePaPerS: r * PSI / 60, absolutePa: 101325 + 100 * PSI, volumeM3: 0.025, temperatureK: 293.15 }), []);
    const t = new Bench(net, { a: 100, b: 100, out: 100 });
    t.wait(60);
    console.log(warm, r, t.psi("a"), t.psi("b"), t.psi("out"));
  }
});
