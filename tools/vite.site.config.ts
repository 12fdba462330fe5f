import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";
import { libraryWords, offline, onlyWoff2, withoutAutolinks } from "./site-plugins.ts";
import { notebooks, pagePolicy, sandbox } from "./vite-plugins.ts";

const { version } = JSON.parse(
  readFileSync(new URL("../package.json", import.meta.url), "utf8"),
) as { version: string };

// The notebook as a static site: relative addresses, so that any folder on any host will do.
export default defineConfig({
  root: fileURLToPath(new URL("../src/ui", import.meta.url)),
  base: "./",
  define: { __VERSION__: JSON.stringify(version) },
  plugins: [
    sandbox(),
    notebooks(),
    pagePolicy(),
    libraryWords(),
    offline(),
    onlyWoff2(),
    withoutAutolinks(),
  ],
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: {
    outDir: fileURLToPath(new URL("../dist/site", import.meta.url)),
    emptyOutDir: true,
    license: { fileName: "licenses.md" },
    target: "es2022",
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
  },
  worker: { format: "es" },
});
