import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { integratorChecks, REFERENCES, worstPressures } from "../scipy/integrator.ts";
import { SUBSYSTEMS, type SubsystemName } from "../scipy/models.ts";
import { runCheck } from "../src/check.ts";

const folder = path.join(path.dirname(fileURLToPath(import.meta.url)), "..", "scipy");

/** The same as reference.py makes of inputs and scripts. */
function fingerprint(): string {
  const digest = createHash("sha256");
  for (const name of ["subsystems.json", "air.py", "subsystems.py", "reference.py"]) {
    digest.update(readFileSync(path.join(folder, name), "utf8").replaceAll("\r\n", "\n"));
  }
  return digest.digest("hex");
}

describe("the product against SciPy", () => {
  it.each(integratorChecks.map((c) => [c.id, c] as const))("%s", (_, check) => {
    const result = runCheck(check, () => 0);
    expect(result.comparisons.filter((c) => !c.ok)).toEqual([]);
    expect(result.ok).toBe(true);
  });

  it("with references that belong to the inputs and scripts as they stand", () => {
    for (const [name, reference] of Object.entries(REFERENCES)) {
      expect(reference, `${name}: run npm run reference`).toMatchObject({ "made from": fingerprint() });
    }
  });
});

describe("the comparison sees", () => {
  /** Makes the first hose, pipe or leak of a subsystem wider by a share. */
  const widened = (name: SubsystemName, share: number) => {
    const system = SUBSYSTEMS[name]();
    const orifices = system.model.orifices.map((o) => ({ ...o, conductance: o.conductance * (1 + share) }));
    return { ...system, model: { ...system.model, orifices } };
  };

  it.each(Object.keys(SUBSYSTEMS) as SubsystemName[])("conductances that are 2 %% too wide, in %s", (name) => {
    const { worst } = worstPressures(widened(name, 0.02), REFERENCES[name]);
    expect(Math.max(...[...worst.values()].map((w) => w.share))).toBeGreaterThan(0.001);
  });
});
