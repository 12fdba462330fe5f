/**
 * Serves the built notebook on the loopback address: the files that lay in its folder at the start, and nothing else.
 *
 * An address is looked up as it was sent, letter by letter, among the names of those files: no path is ever put
 * together from a request, so none can lead outside. A page elsewhere that has its own name point here is turned away by
 * the name of the host.
 */
import { readdirSync, readFileSync } from "node:fs";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import { join, relative, sep } from "node:path";
import sirv from "sirv";

/** Names by which a browser on this machine calls the loopback address. */
const LOOPBACK = new Set(["localhost", "127.0.0.1", "[::1]"]);

/** The policy that the built page has in itself: as a header it holds for everything that is served. */
function pagePolicy(folder: string): string {
  const page = readFileSync(join(folder, "index.html"), "utf8");
  const policy = /http-equiv="Content-Security-Policy" content="([^"]+)"/
    .exec(page)?.[1]
    ?.replaceAll("&#39;", "'");
  if (policy === undefined || policy.includes("&"))
    throw new Error("the built page has no policy that can be read");
  return policy;
}

/** What is sent with every answer. */
function headersFor(folder: string): Readonly<Record<string, string>> {
  return {
    "Content-Security-Policy": `${pagePolicy(folder)}; frame-ancestors 'none'`,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Embedder-Policy": "require-corp",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy":
      "camera=(), microphone=(), geolocation=(), display-capture=(), usb=(), serial=(), bluetooth=(), payment=()",
    "Cache-Control": "no-cache",
  };
}

/** Addresses of the plain files below a folder; links are left out, wherever they lead. */
function addressesIn(folder: string): Set<string> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"));
  return new Set(["/", ...files.map((file) => `/${file}`)]);
}

/** The host's name without its port; undefined for what is none. */
function hostName(request: IncomingMessage): string | undefined {
  return /^(\[[^\]]*\]|[^:]*)(?::\d{1,5})?$/.exec(request.headers.host ?? "")?.[1]?.toLowerCase();
}

function refuse(response: ServerResponse, status: number, why: string): void {
  response.statusCode = status;
  response.setHeader("Content-Type", "text/plain; charset=utf-8");
  // whatever comes with a refused request is not waited for
  response.setHeader("Connection", "close");
  response.end(`${why}\n`);
}

/** A server of the built site in that folder, not yet listening. */
export function siteServer(folder: string): Server {
  const headers = Object.entries(headersFor(folder));
  const addresses = addressesIn(folder);
  // `dev`: no list of its own, made by following links
  const send = sirv(folder, { dev: true, etag: true });
  const server = createServer({ requestTimeout: 30_000, headersTimeout: 10_000 });
  server.on("request", (request: IncomingMessage, response: ServerResponse) => {
    for (const [name, value] of headers) response.setHeader(name, value);
    if (!LOOPBACK.has(hostName(request) ?? ""))
      return refuse(response, 403, "The notebook answers only to localhost.");
    if (request.method !== "GET" && request.method !== "HEAD") {
      response.setHeader("Allow", "GET, HEAD");
      return refuse(response, 405, "The notebook can only be read.");
    }
    const address = (request.url ?? "").split("?", 1)[0]!;
    if (!addresses.has(address)) return refuse(response, 404, "There is no such file here.");
    send(request, response, () => refuse(response, 404, "There is no such file here."));
  });
  return server;
}

/** Listens on the loopback address only. @returns the port; @throws as node does when it is taken */
export function listen(server: Server, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, "127.0.0.1", () => {
      server.off("error", reject);
      const address = server.address();
      resolve(typeof address === "object" && address !== null ? address.port : port);
    });
  });
}
