import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";
import { sandbox } from "./vite-plugins.ts";

// One self-contained file for the command: it starts faster than unbundled modules and needs no node_modules.
export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  publicDir: false,
  plugins: [sandbox()],
  build: {
    ssr: true,
    outDir: "dist/cli",
    emptyOutDir: true,
    target: "node20",
    rolldownOptions: {
      input: { main: "src/cli/main.ts" },
      output: { entryFileNames: "[name].js", codeSplitting: false },
    },
  },
  ssr: { noExternal: true, target: "node" },
});
