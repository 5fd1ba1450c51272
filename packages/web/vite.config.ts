import { defineConfig } from "vite";

export default defineConfig({
  // Relative addresses, so that the built page works under any path.
  base: "./",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  worker: { format: "es" },
  build: { outDir: "dist", emptyOutDir: true, target: "es2022", assetsInlineLimit: 0 },
});
