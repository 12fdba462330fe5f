/** The parts of the built command and the compiled code beside them: taken where it fits, passed over where it does not. */
import { isAscii } from "node:buffer";
import { spawnSync } from "node:child_process";
import {
  cpSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, expect, test } from "vitest";

const root = fileURLToPath(new URL("../..", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "castclock-parts-"));
const command = join(folder, "cli");
const job = join(root, "data/jobs/paddle-shad.yaml");
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Tells on stderr for each part whether V8 has taken the code that was handed to it. */
const spy = join(folder, "spy.cjs");
writeFileSync(
  spy,
  `const vm = require("node:vm");
vm.Script = class extends vm.Script {
  constructor(source, options) {
    super(source, options);
    const told = { true: "refused", false: "taken" }[this.cachedDataRejected] ?? "none";
    process.stderr.write(require("node:path").basename(options.filename) + " " + told + "\\n");
  }
};`,
);

/** A fresh copy of the built command, then changed. */
function copied(change: (large: string) => void = () => undefined): void {
  rmSync(command, { recursive: true, force: true });
  cpSync(join(root, "dist/cli"), command, { recursive: true });
  const [large] = readdirSync(command).filter((name) => /^answering-.*\.js$/.test(name));
  change(join(command, large!));
}

/** What is answered, and what became of the code of the part that answers. */
function asked(...flags: string[]): { text: string; code: string | undefined } {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [...flags, "--require", spy, join(command, "main.js"), "demold", job, "--quick"],
    { encoding: "utf8" },
  );
  expect(status, stderr).toBe(0);
  return {
    text: stdout.replace(/\d+ ms/, "some ms"),
    code: /^answering-\S+ (\w+)$/m.exec(stderr)?.[1],
  };
}

copied();
const usual = asked();

test("the code that was kept is taken", () => {
  expect(usual.code).toBe("taken");
  expect(usual.text).toMatch(/Left out/);
});

test("signs beyond ASCII come out as they are in the source: the parts are read byte by byte", () => {
  expect(usual.text).toMatch(/at 55 °C/);
  for (const name of readdirSync(command).filter((one) => one.endsWith(".js")))
    expect(isAscii(readFileSync(join(command, name))), name).toBe(true);
});

test.each([
  ["none", (at: string) => rmSync(at)],
  ["an empty one", (at: string) => writeFileSync(at, "")],
  ["half of it", (at: string) => writeFileSync(at, readFileSync(at).subarray(0, 100_000))],
  [
    "some bytes turned over",
    (at: string) => {
      const bytes = readFileSync(at);
      for (let i = 1000; i < bytes.length - 8; i += 1000) bytes[i]! ^= 255;
      writeFileSync(at, bytes);
    },
  ],
  ["that of another part", (at: string) => cpSync(at.replace(/answering-.*/, "run.js.code"), at)],
])("code that is no good is passed over: %s", (_, spoil) => {
  copied((large) => spoil(`${large}.code`));
  expect(asked()).toEqual({ ...usual, code: "none" });
});

test("a part that was changed is run as it stands, though it be as long as before", () => {
  copied((large) => {
    const text = readFileSync(large, "latin1");
    expect(text.includes("Left out")).toBe(true);
    writeFileSync(large, text.replaceAll("Left out", "LEFT out"), "latin1");
  });
  const { text, code } = asked();
  expect(code).toBe("none");
  expect(text).toBe(usual.text.replaceAll("Left out", "LEFT out"));
});

test("an engine that was set up otherwise refuses the code and answers the same", () => {
  copied();
  expect(asked("--no-lazy-feedback-allocation")).toEqual({ ...usual, code: "refused" });
});

test("nothing is written where the command lies", () => {
  copied();
  const state = () =>
    readdirSync(command).map((name) => [name, statSync(join(command, name)).mtimeMs]);
  const before = state();
  asked();
  asked("--no-lazy-feedback-allocation");
  expect(state()).toEqual(before);
});

test("a fault shows the place in the part where it was", () => {
  let line = 0;
  copied((large) => {
    const text = readFileSync(large, "latin1");
    const faulty = text.replace(
      /\nfunction checkJob\([^\n]*\n/,
      '$&throw new Error("on purpose");\n',
    );
    line = faulty.slice(0, faulty.indexOf("on purpose")).split("\n").length;
    writeFileSync(large, faulty, "latin1");
  });
  const { status, stderr } = spawnSync(
    process.execPath,
    [join(command, "main.js"), "demold", job],
    { encoding: "utf8", env: { ...process.env, CASTCLOCK_TRACE: "1" } },
  );
  expect(status).toBe(1);
  expect(line).toBeGreaterThan(1);
  expect(stderr).toMatch(
    new RegExp(`on purpose\\n +at checkJob \\(.*answering-[^/]*\\.js:${line}:7\\)`),
  );
});
