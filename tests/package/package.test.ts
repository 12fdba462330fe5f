/**
 * The package as a stranger gets it: packed, installed into an empty project, and the README's examples run there.
 *
 * Other versions of Node are tried where they are at hand: `CASTCLOCK_NODES=/path/to/node22:/path/to/node24`.
 */
import { execFileSync, spawn, spawnSync } from "node:child_process";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { checkPackage, createPackageFromTarballData } from "@arethetypeswrong/core";
import { publint } from "publint";
import { formatMessage } from "publint/utils";
import { afterAll, beforeAll, expect, test } from "vitest";

const root = fileURLToPath(new URL("../..", import.meta.url));
const away = mkdtempSync(join(tmpdir(), "castclock-package-"));
const project = join(away, "shop");
const installed = join(project, "node_modules/castclock");

interface Packed {
  readonly filename: string;
  readonly unpackedSize: number;
  readonly files: readonly { readonly path: string }[];
}
let packed: Packed;

const LONG = 240_000;

beforeAll(() => {
  const told = execFileSync("npm", ["pack", "--json", "--pack-destination", away], {
    cwd: root,
    encoding: "utf8",
    stdio: ["ignore", "pipe", "pipe"],
  });
  // before the JSON npm repeats which script it runs
  const list = JSON.parse(told.slice(told.search(/^\[$/m))) as Packed[];
  packed = list[0]!;
  mkdirSync(project);
  writeFileSync(join(project, "package.json"), JSON.stringify({ name: "shop", type: "module" }));
  execFileSync(
    "npm",
    ["install", "--prefer-offline", "--no-audit", "--no-fund", join(away, packed.filename)],
    { cwd: project, stdio: ["ignore", "pipe", "pipe"] },
  );
}, LONG);

afterAll(() => rmSync(away, { recursive: true, force: true }), LONG);

/** Programs of Node to try, by their version. */
function nodes(): { version: string; path: string }[] {
  const named = (process.env["CASTCLOCK_NODES"] ?? "").split(delimiter).filter((p) => p !== "");
  return [...new Set([process.execPath, ...named])].map((path) => ({
    path,
    version: execFileSync(path, ["--version"], { encoding: "utf8" }).trim(),
  }));
}

const README = readFileSync(join(root, "README.md"), "utf8");

/** Code blocks of the README in one language, in their order. */
function examples(language: string): string[] {
  return [...README.matchAll(new RegExp(`^\`\`\`${language}\n([\\s\\S]*?)^\`\`\``, "gm"))].map(
    ([, block]) => block!,
  );
}

/** As a shell would run it, with this Node in front. */
function shell(command: string, node: string): { status: number | null; output: string } {
  const { status, stdout, stderr } = spawnSync("bash", ["-c", command], {
    cwd: project,
    encoding: "utf8",
    timeout: 60_000,
    env: { ...process.env, PATH: `${dirname(node)}${delimiter}${process.env["PATH"]}` },
  });
  return { status, output: `${stdout}${stderr}` };
}

test("what is packed is what somebody needs who installs it, and no more", () => {
  const paths = packed.files.map(({ path }) => path);
  for (const needed of [
    ...["README.md", "LICENSE", "CHANGELOG.md", "CITATION.cff", "package.json", "bin/castclock.js"],
    ...["dist/cli/main.js", "dist/cli/licenses.md", "dist/lib/index.js", "dist/lib/index.d.ts"],
    ...["dist/site/index.html", "dist/site/licenses.md", "data/jobs/thick-swimmer.yaml"],
    ...["data/SOURCES.md", "notebooks/first.md", "schemas/job.schema.json"],
  ])
    expect(paths, needed).toContain(needed);
  const strange = paths.filter(
    (path) =>
      /^(src|lib|tests|tools|docs\/decisions)\/|\.ts$|\.map$|tsbuildinfo/.test(path) &&
      !path.endsWith(".d.ts"),
  );
  expect(strange).toEqual([]);
  expect(packed.unpackedSize).toBeLessThan(20e6);
});

test("nothing runs while it is installed, neither its own nor of what it stands on", () => {
  const lock = JSON.parse(
    readFileSync(join(project, "node_modules/.package-lock.json"), "utf8"),
  ) as { packages: Record<string, { hasInstallScript?: boolean }> };
  expect(Object.keys(lock.packages).length).toBeGreaterThan(5);
  expect(Object.entries(lock.packages).filter(([, p]) => p.hasInstallScript)).toEqual([]);
});

test(
  "packaging lint",
  async () => {
    const { messages, pkg } = await publint({ pkgDir: installed, strict: true });
    expect(messages.map((message) => formatMessage(message, pkg))).toEqual([]);
    const tarball = createPackageFromTarballData(readFileSync(join(away, packed.filename)));
    const checked = await checkPackage(tarball);
    const problems = checked.types ? checked.problems : [{ kind: "NoTypes" }];
    // it is ESM and nothing else: `require` of old Nodes and resolvers that read no `exports` are not served
    const told = problems.filter(({ kind, ...rest }) => {
      const resolver = "resolutionKind" in rest ? rest.resolutionKind : "";
      return kind !== "CJSResolvesToESM" && !(kind === "NoResolution" && resolver === "node10");
    });
    expect(told).toEqual([]);
  },
  LONG,
);

const tried = nodes();

test.each(tried)(
  "the README's commands, Node $version",
  ({ path }) => {
    const lines = examples("sh")
      .flatMap((block) => block.split("\n"))
      .map((line) => line.replace(/\s+#.*$/, "").trim())
      .filter((line) => line.startsWith("npx castclock") && !/\bnotebook\b/.test(line));
    expect(lines.length).toBeGreaterThan(3);
    const sample = /begins:\n\n```\n([\s\S]*?)\n```/.exec(README)?.[1] ?? "no sample";
    for (const line of lines) {
      const { status, output } = shell(line, path);
      expect(status, `${line}\n${output}`).toBe(0);
      expect(output, line).not.toMatch(/Warning|NaN|undefined/);
      if (line === "npx castclock demold swimmer.yaml") expect(output).toContain(sample);
    }
  },
  LONG,
);

test.each(tried)(
  "the README's library call, Node $version",
  ({ path }) => {
    const calls = examples("js");
    expect(calls.length).toBeGreaterThan(0);
    for (const [i, call] of calls.entries()) {
      writeFileSync(join(project, `call-${i}.js`), call);
      const { status, output } = shell(`node call-${i}.js`, path);
      expect(status, output).toBe(0);
      // what a line prints stands behind it as a comment
      const printed = [...call.matchAll(/^console\.log\(.*\/\/ (.*)$/gm)].map(([, told]) => told);
      expect(printed.length).toBeGreaterThan(0);
      expect(output.trim().split("\n")).toEqual(printed);
    }
  },
  LONG,
);

test.each(tried)(
  "each doorway opens, Node $version",
  ({ path }) => {
    const { exports } = JSON.parse(readFileSync(join(installed, "package.json"), "utf8")) as {
      exports: Record<string, unknown>;
    };
    const doorways = Object.keys(exports).filter((name) => !/\*|json/.test(name));
    expect(doorways.length).toBeGreaterThan(8);
    const script = doorways
      .map(
        (name) =>
          `if (Object.keys(await import("castclock${name.slice(1)}")).length === 0) throw new Error("${name} is empty");`,
      )
      .join("\n");
    writeFileSync(join(project, "doorways.js"), `${script}\nconsole.log("open");`);
    expect(shell("node doorways.js", path)).toEqual({ status: 0, output: "open\n" });
  },
  LONG,
);

test(
  "types are found by those who write TypeScript",
  () => {
    writeFileSync(
      join(project, "typed.ts"),
      `import { demold, type Demold, readJob } from "castclock";
import { simulate, type HeatProblem } from "castclock/heat";
const answer: Demold = demold(readJob("bait: { thickness: 16 mm }").job).answer;
const low: number = answer.time.low;
// @ts-expect-error a time is no text
const wrong: string = answer.time.value;
export const run = (problem: HeatProblem) => [simulate(problem).effort.cells, low, wrong];
`,
    );
    const compilerOptions = { module: "nodenext", strict: true, noEmit: true, types: [] };
    writeFileSync(
      join(project, "tsconfig.json"),
      JSON.stringify({ compilerOptions, files: ["typed.ts"] }),
    );
    const { status, stdout } = spawnSync(
      process.execPath,
      [join(root, "node_modules/typescript/bin/tsc"), "-p", "."],
      { cwd: project, encoding: "utf8" },
    );
    expect(stdout).toBe("");
    expect(status).toBe(0);
  },
  LONG,
);

test.each(tried)(
  "the notebook is served, Node $version",
  async ({ path }) => {
    const port = 20_000 + (process.pid % 20_000);
    const child = spawn(
      path,
      [join(installed, "bin/castclock.js"), "notebook", "--port", String(port)],
      {
        cwd: project,
        stdio: ["ignore", "pipe", "inherit"],
      },
    );
    const ended = new Promise<number | null>((resolve) => child.on("exit", resolve));
    try {
      const address = await new Promise<string>((resolve, reject) => {
        child.stdout.on("data", (part) => {
          const found = /http:\/\/localhost:\d+\//.exec(String(part))?.[0];
          if (found) resolve(found);
        });
        void ended.then((code) => reject(new Error(`it ended with ${code}`)));
      });
      const page = await fetch(address);
      expect(page.status).toBe(200);
      const script = /src="\.\/(assets\/[^"]+\.js)"/.exec(await page.text())?.[1];
      expect((await fetch(`${address}${script}`)).status).toBe(200);
      expect(existsSync(join(installed, "dist/site", String(script)))).toBe(true);
    } finally {
      child.kill("SIGTERM");
    }
    expect(await ended).toBe(0);
  },
  LONG,
);

/** Terms under which the work of others may stand in ours, which is MIT. */
const ALLOWED = new Set([
  ...["MIT", "ISC", "BSD-2-Clause", "BSD-3-Clause", "Apache-2.0", "0BSD", "BlueOak-1.0.0"],
  ...["CC0-1.0", "OFL-1.1", "Unlicense", "Python-2.0", "MIT AND BSD-3-Clause"],
]);

test("whatever is installed with it is free to use, and brings its license", () => {
  const folders = readdirSync(join(project, "node_modules"), {
    withFileTypes: true,
    recursive: true,
  })
    .filter(
      (entry) =>
        entry.name === "package.json" && /node_modules\/(@[^/]+\/)?[^/]+$/.test(entry.parentPath),
    )
    .map((entry) => entry.parentPath);
  const read = folders.map((folder) => {
    const { name, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8")) as {
      name: string;
      license?: string;
    };
    return { name, license: license ?? "none" };
  });
  expect(read.length).toBeGreaterThan(8);
  expect(read.filter(({ license }) => !ALLOWED.has(license))).toEqual([]);
});

test.each(["dist/cli/licenses.md", "dist/site/licenses.md", "dist/lib/vendor/math-licenses.md"])(
  "what is bundled is free to use: %s",
  (file) => {
    const text = readFileSync(join(installed, file), "utf8");
    const told = [...text.matchAll(/^## (\S+) - \S+ \((.*)\)$/gm)];
    expect(told.length, text.slice(0, 300)).toBeGreaterThan(3);
    expect(told.filter(([, , license]) => !ALLOWED.has(license!)).map(([line]) => line)).toEqual(
      [],
    );
  },
);
