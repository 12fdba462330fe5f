// For the browser tests: builds the site once when it is stale, serves it, and provides its address:
// `inject("site")` in a test gives `http://localhost:PORT/`.
import { join } from "node:path";
import { type PreviewServer, preview } from "vite";
import type { TestProject } from "vitest/node";
import { build, isStale, root } from "./build.js";

declare module "vitest" {
  interface ProvidedContext {
    site: string;
  }
}

let server: PreviewServer | undefined;

export async function setup(project: TestProject): Promise<void> {
  if (isStale("site")) await build("site");
  server = await preview({
    configFile: join(root, "tools/vite.site.config.ts"),
    preview: { port: 0, open: false },
    logLevel: "error",
  });
  const address = server.resolvedUrls?.local[0];
  if (address === undefined) throw new Error("the site has no address");
  project.provide("site", address);
}

export async function teardown(): Promise<void> {
  await server?.close();
}
