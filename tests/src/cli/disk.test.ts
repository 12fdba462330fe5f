/** Files of a real disk: whole or not at all, and every odd path told in a line. */
import { execFileSync, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, expect, test } from "vitest";
import { diskWorld } from "../../../src/cli/disk.ts";
import { runOnDisk } from "./world.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "castclock-disk-"));
const at = (name: string) => join(folder, name);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

writeFileSync(at("job.yaml"), "name: Disk minnow\nbait: { thickness: 16 mm }\n");

const run = (...words: string[]) => runOnDisk(words);

test("a file that is replaced keeps its mode and its link, and nothing lies beside it", () => {
  mkdirSync(at("whole"));
  writeFileSync(at("whole/real.yaml"), "old");
  chmodSync(at("whole/real.yaml"), 0o640);
  symlinkSync("real.yaml", at("whole/link.yaml"));
  expect(diskWorld.write(at("whole/link.yaml"), "new")).toBeNull();
  expect(readFileSync(at("whole/real.yaml"), "utf8")).toBe("new");
  expect(statSync(at("whole/real.yaml")).mode & 0o777).toBe(0o640);
  expect(readdirSync(at("whole")).sort()).toEqual(["link.yaml", "real.yaml"]);
});

test("a disk that is full leaves the old file as it was, and no part of the new one", () => {
  mkdirSync(at("full"));
  writeFileSync(at("full/job.yaml"), "old");
  const script = `
    import { diskWorld } from ${JSON.stringify(join(root, "src/cli/disk.ts"))};
    process.on("SIGXFSZ", () => {});
    const long = "x".repeat(200_000);
    const problems = ["job.yaml", "new.yaml"].map((name) => diskWorld.write(${JSON.stringify(at("full/"))} + name, long));
    console.log(JSON.stringify(problems.map((p) => p?.code)));
  `;
  // a bound on the size of files stands for the disk: 8 blocks of 1 kB
  const { stdout, stderr } = spawnSync(
    "bash",
    [
      "-c",
      'ulimit -f 8; exec "$0" --import tsx --input-type=module -e "$1"',
      process.execPath,
      script,
    ],
    { cwd: root, encoding: "utf8", timeout: 60_000 },
  );
  expect(stdout.trim(), stderr).toBe('["file_unwritable","file_unwritable"]');
  expect(readFileSync(at("full/job.yaml"), "utf8")).toBe("old");
  expect(readdirSync(at("full"))).toEqual(["job.yaml"]);
});

test.each([
  ["/dev/full", "ENOSPC"],
  [at("nowhere/job.yaml"), "ENOENT"],
  [folder, "it is a folder"],
  [`${at("job.yaml")}/below.yaml`, "ENOTDIR"],
  ["/proc/castclock.yaml", ""],
  ["/sys/castclock.yaml", ""],
  ["job\0.yaml", ""],
  ["", ""],
])("writing to %j is refused with the reason", (path, reason) => {
  const problem = diskWorld.write(path, "text");
  expect(problem?.code).toBe("file_unwritable");
  expect(String(problem?.given)).toContain(reason);
});

test.each([
  "/dev/full",
  "/dev/full/pictures",
  `${at("job.yaml")}`,
  `${at("job.yaml")}/below`,
  "/proc/pictures",
  "a\0b",
])("pictures under %j: told before anything is computed", async (path) => {
  const { code, printed, complained } = await run("mix", at("job.yaml"), "--svg", path);
  expect(code).toBe(2);
  expect(printed).toBe("");
  expect(complained).toContain("Nothing can be written there");
  expect(complained).not.toMatch(/^\s+at /m);
});

test("a write that is killed leaves the old file or the new one", async () => {
  mkdirSync(at("killed"));
  const file = at("killed/job.yaml");
  const texts = ["a".repeat(4_000_000), "b".repeat(4_000_000)];
  writeFileSync(file, texts[0]!);
  const script = `
    import { diskWorld } from ${JSON.stringify(join(root, "src/cli/disk.ts"))};
    console.log("writing");
    for (let k = 1; ; k++) diskWorld.write(${JSON.stringify(file)}, (k % 2 ? "b" : "a").repeat(4_000_000));
  `;
  for (let kill = 0; kill < 5; kill++) {
    const writing = spawn(
      process.execPath,
      ["--import", "tsx", "--input-type=module", "-e", script],
      { cwd: root, stdio: ["ignore", "pipe", "inherit"] },
    );
    await once(writing.stdout, "data");
    await new Promise((soon) => setTimeout(soon, 20 + 13 * kill));
    writing.kill("SIGKILL");
    await once(writing, "exit");
    expect(texts.includes(readFileSync(file, "utf8"))).toBe(true);
  }
  rmSync(at("killed"), { recursive: true });
});

test("a folder that may only be read: told in a line, nothing is written", async () => {
  // whoever may do everything may write into any folder but those of the system itself
  const mayAll = process.getuid?.() === 0;
  const closed = mayAll ? "/sys" : at("closed");
  if (!mayAll) mkdirSync(closed, { mode: 0o555 });
  const { code, printed, complained } = await run(
    ...["shape", at("job.yaml"), "--write", `${closed}/new.yaml`],
  );
  expect(code).toBe(2);
  expect(complained).toContain("can't be written");
  expect(complained).not.toMatch(/^\s+at /m);
  expect(printed.includes("NaN")).toBe(false);
  expect(existsSync(`${closed}/new.yaml`)).toBe(false);
});

test("pictures that find no room: nothing is printed, the reason is", async () => {
  mkdirSync(at("taken/demold.svg"), { recursive: true });
  const { code, printed, complained } = await run(
    ...["demold", at("job.yaml"), "--quick", "--svg", at("taken")],
  );
  expect(code).toBe(2);
  expect(printed).toBe("");
  expect(complained).toMatch(/nothing was kept\.\n.*demold\.svg: The file can't be written/);
});

test.each([
  ["/dev/zero", "it does not end"],
  ["/dev/null", "empty"],
  ["/proc/self/mem", "can't be read"],
  [folder, "it is a folder"],
  [at("nowhere.yaml"), "no such file"],
  [`${at("job.yaml")}/x`, "can't be read"],
  ["a\0b", "can't be read"],
  ["\u001b[2Jclear.yaml", "no such file"],
])("reading %j ends with the reason", async (path, reason) => {
  const { code, printed, complained } = await run("job", path);
  expect(code).toBe(2);
  expect(printed).toBe("");
  expect(complained).toContain(reason);
  expect(complained).not.toContain("\u001b");
});

test("a job comes through a pipe, too", async () => {
  const pipe = at("pipe");
  execFileSync("mkfifo", [pipe]);
  const writing = spawnSync("bash", ["-c", `cat ${at("job.yaml")} > ${pipe} &`], {
    stdio: "ignore",
  });
  expect(writing.status).toBe(0);
  expect(await run("job", pipe)).toMatchObject({ code: 0, complained: "" });
});

test("what a file says can't steer the terminal", async () => {
  writeFileSync(
    at("evil.yaml"),
    'name: "A\\e[31mB\\u202Eniam\\u009b2J"\nbait: { thickness: 16 mm }\n',
  );
  for (const words of [["mix"], ["mix", "--json"], ["job"]]) {
    const { code, printed } = await run(words[0]!, at("evil.yaml"), ...words.slice(1));
    expect(code).toBe(0);
    expect(printed).toContain("u202e");
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
    expect(printed).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028-\u202e]/);
    if (words[1] === "--json")
      expect(JSON.parse(printed).job).toBe("A\u001b[31mB\u202eniam\u009b2J");
  }
});

test("no part is left over", () => {
  expect(
    readdirSync(folder, { recursive: true }).filter((n) => String(n).endsWith(".part")),
  ).toEqual([]);
  expect(existsSync(at("job.yaml"))).toBe(true);
});
