// Finds a Chromium for the browser tests: CHROMIUM_PATH, then the system's, then the one that the
// npm package @sparticuz/chromium ships (Linux x64; unpacked once into node_modules/.cache).
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync } from "node:fs";
import { join } from "node:path";

const SYSTEM = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

export async function chromiumPath(): Promise<string> {
  const given = process.env["CHROMIUM_PATH"];
  if (given) return given;
  const found = SYSTEM.find((p) => existsSync(p));
  if (found) return found;
  return await unpackedChromium();
}

async function unpackedChromium(): Promise<string> {
  const modules = join(import.meta.dirname, "..", "node_modules");
  const manifest = readFileSync(join(modules, "@sparticuz/chromium/package.json"), "utf8");
  const { version } = JSON.parse(manifest) as { version: string };
  const dir = join(modules, ".cache", `chromium-${version}`);
  const exe = join(dir, "chromium");
  if (existsSync(exe)) return exe;
  // The package unpacks into os.tmpdir() under a fixed name and never looks at the version:
  // give it a folder of our own, and move the folder into place when it is whole.
  const part = `${dir}.part-${process.pid}`;
  mkdirSync(part, { recursive: true });
  const before = process.env["TMPDIR"];
  process.env["TMPDIR"] = part;
  try {
    const { default: sparticuz } = await import("@sparticuz/chromium");
    await sparticuz.executablePath();
  } finally {
    if (before === undefined) delete process.env["TMPDIR"];
    else process.env["TMPDIR"] = before;
  }
  if (existsSync(exe)) rmSync(part, { recursive: true });
  else renameSync(part, dir);
  return exe;
}

/** Not the package's own args: those switch off web security and site isolation. */
export const chromiumArgs = [
  ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  // what Chromium does on a desktop anyway, and the headless shell does not: a sandboxed frame has its own process
  "--site-per-process",
];
