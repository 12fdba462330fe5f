import { fileURLToPath } from "node:url";
import { defineConfig, type Plugin } from "vite";
import { sandbox } from "./vite-plugins.ts";

/**
 * The package is of modules; this folder of it is not. Texts of plain ASCII are read as they are, without decoding: what
 * else stands in texts and comments is written by its number.
 */
function plainScripts(): Plugin {
  return {
    name: "castclock-plain-scripts",
    // at the very end: whoever prints a chunk after this would write the characters themselves again
    generateBundle(_options, bundle) {
      for (const file of Object.values(bundle)) {
        if (file.type !== "chunk") continue;
        file.code = file.code.replace(/[\u0080-\uffff]/g, (unit) => {
          const number = unit.charCodeAt(0).toString(16).padStart(4, "0");
          return `\\u${number}`;
        });
      }
      this.emitFile({
        type: "asset",
        fileName: "package.json",
        source: '{ "type": "commonjs" }\n',
      });
    },
  };
}

// The command needs no node_modules. What every question needs is one part, `answering`, whose functions then call each
// other directly; what is imported when it is called for are parts of their own. All are CommonJS: V8 keeps the compiled
// code of scripts, but not of modules.
export default defineConfig({
  root: fileURLToPath(new URL("..", import.meta.url)),
  publicDir: false,
  plugins: [sandbox(), plainScripts()],
  build: {
    ssr: true,
    outDir: "dist/cli",
    emptyOutDir: true,
    license: { fileName: "licenses.md" },
    target: "node20",
    rolldownOptions: {
      input: {
        main: "src/cli/main.ts",
        parts: "src/cli/parts.ts",
        run: "src/cli/run.ts",
        "sweep-worker": "src/cli/sweep/worker.ts",
      },
      output: {
        format: "cjs",
        entryFileNames: "[name].js",
        chunkFileNames: "[name]-[hash].js",
        codeSplitting: {
          groups: [
            { name: "command", test: /src\/cli\/(command|disk)\.ts$/, priority: 2 },
            { name: "answering", test: /src\/cli\/answering\.ts$/, priority: 1 },
          ],
        },
      },
    },
  },
  ssr: { noExternal: true, target: "node" },
});
