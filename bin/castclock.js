#!/usr/bin/env node
// Runs the built command; builds it first where the sources are at hand and newer.
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

const at = (path) => new URL(`../${path}`, import.meta.url);
if (existsSync(fileURLToPath(at("src/cli/main.ts")))) {
  const { build, isStale } = await import(at("tools/build.js").href);
  if (isStale("cli")) await build("cli");
}
await import(at("dist/cli/main.js").href);
