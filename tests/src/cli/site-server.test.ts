/** The notebook's server gives what lies in its folder, on the loopback address, to this machine's own names. */
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import type { Server } from "node:http";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { listen, siteServer } from "../../../src/cli/site-server.ts";

const SECRET = "nobody may read this";
const POLICY = "default-src &#39;none&#39;; script-src &#39;self&#39;";
const outside = mkdtempSync(join(tmpdir(), "castclock-server-"));
const folder = join(outside, "site");
let server: Server;
let port: number;

beforeAll(async () => {
  mkdirSync(join(folder, "assets"), { recursive: true });
  mkdirSync(join(outside, "site-secrets"));
  writeFileSync(
    join(folder, "index.html"),
    `<meta http-equiv="Content-Security-Policy" content="${POLICY}"><p>sheet</p>`,
  );
  writeFileSync(join(folder, "assets/main.js"), "let sheet;");
  writeFileSync(join(outside, "secret.txt"), SECRET);
  writeFileSync(join(outside, "site-secrets/secret.txt"), SECRET);
  symlinkSync(join(outside, "secret.txt"), join(folder, "link.txt"));
  symlinkSync(outside, join(folder, "way-out"));
  server = siteServer(folder);
  port = await listen(server, 0);
});

afterAll(() => {
  server.closeAllConnections();
  server.close();
  rmSync(outside, { recursive: true });
});

interface Reply {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

/** Sends these very bytes: a client library would tidy an address up before it is sent. */
function raw(text: string): Promise<Reply> {
  return new Promise((resolve, reject) => {
    let got = "";
    const socket = connect(port, "127.0.0.1", () => socket.write(text, "latin1"));
    socket.setTimeout(5000, () => socket.destroy(new Error("no answer within 5 s")));
    socket.on("data", (part) => {
      got += part.toString("latin1");
    });
    socket.on("error", reject);
    socket.on("close", () => {
      const [head = "", ...rest] = got.split("\r\n\r\n");
      const [first = "", ...lines] = head.split("\r\n");
      resolve({
        status: Number(first.split(" ")[1] ?? 0),
        headers: Object.fromEntries(
          lines.map((line) => {
            const colon = line.indexOf(":");
            return [line.slice(0, colon).toLowerCase(), line.slice(colon + 1).trim()];
          }),
        ),
        body: rest.join("\r\n\r\n"),
      });
    });
  });
}

const ask = (address: string, host = `localhost:${port}`, method = "GET") =>
  raw(`${method} ${address} HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`);

test("files of the folder, by their names", async () => {
  expect(await ask("/")).toMatchObject({ status: 200, body: expect.stringContaining("sheet") });
  expect(await ask("/index.html?x=1")).toMatchObject({ status: 200 });
  expect(await ask("/assets/main.js")).toMatchObject({
    status: 200,
    body: "let sheet;",
    headers: { "content-type": "text/javascript" },
  });
  expect(await ask("/assets/main.js", "127.0.0.1", "HEAD")).toMatchObject({
    status: 200,
    body: "",
  });
});

test("it listens on the loopback address and nowhere else", () => {
  expect(server.address()).toMatchObject({ address: "127.0.0.1" });
});

const STRICT = {
  "content-security-policy": "default-src 'none'; script-src 'self'; frame-ancestors 'none'",
  "x-content-type-options": "nosniff",
  "x-frame-options": "DENY",
  "referrer-policy": "no-referrer",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-embedder-policy": "require-corp",
  "cross-origin-resource-policy": "same-origin",
};

test("every answer has the strict headers, a refusal, too, and none lets another site read", async () => {
  const replies = [
    await ask("/"),
    await ask("/assets/main.js"),
    await ask("/nowhere"),
    await ask("/", "elsewhere.example"),
    await ask("/", "localhost", "DELETE"),
  ];
  for (const { headers } of replies) {
    expect(headers).toMatchObject(STRICT);
    expect(Object.keys(headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
  }
});

const WAYS_OUT = [
  "/../secret.txt",
  "/assets/../../secret.txt",
  "/./../secret.txt",
  "//../secret.txt",
  "/..%2fsecret.txt",
  "/%2e%2e/secret.txt",
  "/%2e%2e%2fsecret.txt",
  "/%252e%252e%252fsecret.txt",
  "/%c0%ae%c0%ae/secret.txt",
  "/..\\secret.txt",
  "/..%5csecret.txt",
  "/%00/../secret.txt",
  "/index.html%00.txt",
  "/../site-secrets/secret.txt",
  "../secret.txt",
  `${outside}/secret.txt`,
  `/${outside}/secret.txt`,
  "/link.txt",
  "/way-out/secret.txt",
  "/way-out/site/index.html",
  "http://localhost/../secret.txt",
  "file:///etc/passwd",
  "/assets",
  "/assets/",
  "/.git/config",
  "/%",
  "/%zz",
  "*",
];

test.each(WAYS_OUT)("%s leads nowhere", async (address) => {
  const { status, body } = await ask(address);
  expect([400, 404]).toContain(status);
  expect(body).not.toContain(SECRET);
  expect(body).not.toContain(outside);
});

test.each([
  "elsewhere.example",
  `elsewhere.example:${4173}`,
  "localhost.elsewhere.example",
  "127.0.0.1.elsewhere.example",
  "localhost@elsewhere.example",
  "127.0.0.2",
  "0.0.0.0",
  "192.168.1.5",
  "[::]",
  "localhost:99999999",
  "localhost:80:80",
  "2130706433",
  "",
])("the host %j is turned away", async (host) => {
  expect((await ask("/", host)).status).toBe(403);
});

test("no host, two hosts and no request at all are refused", async () => {
  expect((await raw("GET / HTTP/1.1\r\nConnection: close\r\n\r\n")).status).toBe(400);
  expect((await raw("GET / HTTP/1.0\r\n\r\n")).status).toBe(403);
  const two =
    "GET / HTTP/1.1\r\nHost: elsewhere.example\r\nHost: localhost\r\nConnection: close\r\n\r\n";
  expect([400, 403]).toContain((await raw(two)).status);
  expect((await raw("castclock\r\n\r\n")).status).toBe(400);
});

test.each(["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "PROPFIND"])(
  "%s is refused with what is possible",
  async (method) => {
    expect(await ask("/", "localhost", method)).toMatchObject({
      status: 405,
      headers: { allow: "GET, HEAD" },
    });
  },
);

test("odd requests end, and the server goes on", async () => {
  expect((await ask(`/${"a".repeat(100_000)}`)).status).toBe(431);
  expect((await ask(`/${"../".repeat(3000)}secret.txt`)).status).toBe(404);
  const many = Array.from({ length: 3000 }, (_, i) => `X-${i}: 1\r\n`).join("");
  const crowded = `GET / HTTP/1.1\r\nHost: localhost\r\n${many}Connection: close\r\n\r\n`;
  expect([200, 431]).toContain((await raw(crowded)).status);
  const upgrade =
    "GET / HTTP/1.1\r\nHost: localhost\r\nConnection: Upgrade, close\r\nUpgrade: websocket\r\n\r\n";
  expect((await raw(upgrade)).status).toBe(200);
  const posted =
    "POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 9000000000\r\n\r\nnever the rest";
  expect((await raw(posted)).status).toBe(405);
  const range =
    "GET /assets/main.js HTTP/1.1\r\nHost: localhost\r\nRange: bytes=-1,0-99999999999\r\nConnection: close\r\n\r\n";
  expect([200, 206, 416]).toContain((await raw(range)).status);
  expect((await ask("/")).status).toBe(200);
});
