// For the browser tests: builds the site once when it is stale, serves it as `castclock notebook` does, and provides its
// address: `inject("site")` in a test gives `http://localhost:PORT/`.
import type { Server } from "node:http";
import { join } from "node:path";
import type { TestProject } from "vitest/node";
import { listen, siteServer } from "../src/cli/site-server.ts";
import { build, isStale, root } from "./build.js";

declare module "vitest" {
  interface ProvidedContext {
    site: string;
  }
}

let server: Server | undefined;

export async function setup(project: TestProject): Promise<void> {
  if (isStale("site")) await build("site");
  server = siteServer(join(root, "dist/site"));
  project.provide("site", `http://localhost:${await listen(server, 0)}/`);
}

export function teardown(): void {
  server?.close();
  server?.closeAllConnections();
}
