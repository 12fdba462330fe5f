import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";

// The notebook as a static site: relative addresses, so that any folder on any host will do.
export default defineConfig({
  root: fileURLToPath(new URL("../src/ui", import.meta.url)),
  base: "./",
  build: {
    outDir: fileURLToPath(new URL("../dist/site", import.meta.url)),
    emptyOutDir: true,
    target: "es2022",
  },
  worker: { format: "es" },
});
