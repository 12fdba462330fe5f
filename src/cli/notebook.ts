/** `castclock notebook`: serves the notebook that came with the command until it is stopped. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import type { World } from "./files.ts";
import { listen, siteServer } from "./site-server.ts";
import { Misuse } from "./words.ts";

/** A browser keeps sheets by address: the port stays the same from day to day. */
const USUAL_PORT = 4173;
/** Ports that are tried after it. */
const MORE_PORTS = 20;

const SITE = join(import.meta.dirname, "../site");

function portFrom(typed: string | undefined): number | undefined {
  if (typed === undefined) return undefined;
  const port = Number(typed);
  if (!/^\d{1,5}$/.test(typed) || port < 1 || port > 65_535)
    throw new Misuse(`--port is a whole number from 1 to 65535, not "${typed}".`);
  return port;
}

/** @returns once the server is closed: 0, or 1 when it could not be opened */
export async function serveNotebook(typedPort: string | undefined, world: World): Promise<0 | 1> {
  const asked = portFrom(typedPort);
  if (!existsSync(join(SITE, "index.html"))) {
    world.complain("The notebook is not built here: npm run build makes it.\n");
    return 1;
  }
  const server = siteServer(SITE);
  const ports =
    asked === undefined ? Array.from({ length: MORE_PORTS }, (_, i) => USUAL_PORT + i) : [asked];
  let port: number | undefined;
  for (const one of ports) {
    try {
      port = await listen(server, one);
      break;
    } catch (error) {
      const code = (error as { code?: string }).code;
      if (code === "EADDRINUSE" && one !== ports.at(-1)) continue;
      world.complain(
        `Port ${one} can't be opened (${code ?? String(error)}). Name another one: castclock notebook --port 8080\n`,
      );
      return 1;
    }
  }
  world.print(`The notebook is open at http://localhost:${port}/  (stop with Ctrl+C)\n`);
  if (asked === undefined && port !== USUAL_PORT)
    world.print(
      `Port ${USUAL_PORT} was taken. What was kept under that address is not seen under this one.\n`,
    );
  return await new Promise((resolve) => {
    server.on("close", () => resolve(0));
    for (const signal of ["SIGINT", "SIGTERM"] as const)
      process.once(signal, () => {
        server.close();
        server.closeAllConnections();
      });
  });
}
