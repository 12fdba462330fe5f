import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";
import { sandbox } from "./vite-plugins.ts";

// The command needs no node_modules, and what a question does not need is not loaded for it: parts that are imported
// when they are called for are files of their own.
export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  publicDir: false,
  plugins: [sandbox()],
  build: {
    ssr: true,
    outDir: "dist/cli",
    emptyOutDir: true,
    license: { fileName: "licenses.md" },
    target: "node20",
    rolldownOptions: {
      input: { main: "src/cli/main.ts", "sweep-worker": "src/cli/sweep/worker.ts" },
      output: { entryFileNames: "[name].js", chunkFileNames: "[name]-[hash].js" },
    },
  },
  ssr: { noExternal: true, target: "node" },
});
