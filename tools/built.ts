// For the tests of the package: everything that is packed is built once, before any test runs.
import { build, isStale } from "./build.js";

export async function setup(): Promise<void> {
  for (const name of ["cli", "lib", "site"] as const) if (isStale(name)) await build(name);
}
