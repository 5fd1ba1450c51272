import { defineConfig } from "vitest/config";

/** Groups of tests; `scripts/test.mjs` runs each by its name and counts what it reports. "measure" is for `npm run bench`. */
export default defineConfig({
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          testTimeout: 60_000,
          include: [
            "packages/*/{src,test}/**/*.test.{ts,tsx}",
            "checks/{src,test}/**/*.test.ts",
            "checks/expert/perturbed.test.ts",
            "bench/{proofs,speed}/**/*.test.ts",
          ],
        },
      },
      { extends: true, test: { name: "repository", include: ["tests/*.test.ts"], testTimeout: 60_000 } },
      { extends: true, test: { name: "bits", include: ["tests/bits/*.test.ts"], testTimeout: 300_000 } },
      {
        extends: true,
        test: {
          name: "measure",
          include: ["bench/page/*.test.ts"],
          testTimeout: 120_000,
          hookTimeout: 60_000,
          fileParallelism: false,
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          include: ["tests/browser/**/*.test.ts"],
          testTimeout: 60_000,
          hookTimeout: 60_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
