import { describe, expect, test } from "vitest";
import { catalog } from "../../../lib/materials/catalog.ts";
import { runCommand } from "../../../src/cli/command.ts";
import { questions } from "../../../src/cli/questions.ts";
import { badJobs } from "./bad-jobs.ts";
import { testWorld } from "./world.ts";

test("there are at least forty of them", () => {
  expect(badJobs.length).toBeGreaterThanOrEqual(40);
  expect(new Set(badJobs.map(({ name }) => name)).size).toBe(badJobs.length);
});

test.each(badJobs)("$name", async ({ text, says }) => {
  const world = testWorld({ "job.yaml": text });
  expect(await runCommand(["job", "job.yaml"], world)).toBe(2);
  expect(world.printed).toBe("");
  const [head, ...lines] = world.complained.trimEnd().split("\n");
  const told = `${head}\n${lines.join("\n")}`;
  // as many lines as problems, each with its pieces in one line
  expect(lines.length, told).toBe(says.length);
  for (const pieces of says) {
    const found = lines.filter((line) => pieces.every((piece) => line.includes(piece)));
    expect(found.length, `${pieces.join(" + ")}\nin\n${told}`).toBe(1);
  }
});

test("every question refuses alike, with and without --json", async () => {
  const text = "bait: { thickness: 16 }";
  for (const { name } of questions) {
    for (const more of [[], ["--json"]]) {
      const world = testWorld({ "job.yaml": text });
      expect(await runCommand([name, "job.yaml", ...more], world)).toBe(2);
      expect(world.printed).toBe("");
      expect(world.complained).toContain("bait.thickness: 16 has no unit.");
    }
  }
});

const MISUSES: [string[], string][] = [
  [[], "castclock QUESTION JOB.yaml"],
  [["demould", "job.yaml"], "There is no question"],
  [["constructor", "job.yaml", "--json"], 'There is no question "constructor".'],
  [["job"], "needs a file"],
  [["job", "a.yaml", "b.yaml"], "takes one file"],
  [["job", "none.yaml"], "none.yaml: There is no such file."],
  [["job", "job.yaml", "--set", "bait.thickness"], "--set needs path=value"],
  [["job", "job.yaml", "--set", "bait.thickness=18"], "18 has no unit"],
  [["job", "job.yaml", "--set", "bait.thicknes=18 mm"], "Did you mean thickness?"],
  [["job", "job.yaml", "--set", "a b=18 mm"], "no such place"],
  [["demold", "job.yaml", "--units", "stones"], "--units is metric or us"],
  [["job", "job.yaml", "--colour"], 'There is no option "--colour".'],
  [["schema", "job", "--quick"], "castclock schema has no use for --quick; it takes no option."],
  [
    ["proof", "--svg", "x", "--quick"],
    "castclock proof has no use for --svg, --quick; possible: --json, --markdown.",
  ],
  [["job", "job.yaml", "--jsn"], "Did you mean --json?"],
  [["job", "job.yaml", "--set"], "--set needs a value, such as"],
  [["demold", "job.yaml", "--quick=yes"], "--quick takes no value."],
  [["budget", "job.yaml", "--svg", "empty.json"], "empty.json: Nothing can be written there"],
  [["schema"], "castclock schema job"],
  [["schema", "boat"], "castclock schema job"],
  [["solve", "job.yaml"], "no JSON"],
  [["solve", "none.json"], "There is no such file."],
  [["solve", "empty.json"], "frame"],
];

test.each(MISUSES)("castclock %s is refused", async (words, says) => {
  const world = testWorld({ "job.yaml": "bait: { thickness: 16 mm }", "empty.json": "{}" });
  expect(await runCommand(words, world)).toBe(2);
  expect(world.printed).toBe("");
  expect(world.complained).toContain(says);
});

test("what was refused is told with its file", async () => {
  const world = testWorld({ "minnow.yaml": "bait: { thickness: 16 }" });
  await runCommand(["demold", "minnow.yaml"], world);
  expect(world.complained).toMatch(/^1 problem in minnow\.yaml; nothing was computed\./);
});

test("help of each question says what it reads; the materials are listed", async () => {
  for (const { name } of questions) {
    const world = testWorld({});
    expect(await runCommand([name, "--help"], world)).toBe(0);
    expect(world.printed).toContain(`castclock ${name} JOB.yaml`);
    expect(world.printed).not.toContain("castclock solve");
  }
  const world = testWorld({});
  expect(await runCommand(["materials"], world)).toBe(0);
  for (const { name } of catalog) expect(world.printed).toContain(name);
  // a spread that two digits would hide has three
  expect(world.printed).toContain("(115 to 123)");
  expect(world.printed).not.toMatch(/\(([\d.]+) to \1\)/);
});

test("a file of 40 MB is refused by its size, before it is read", async () => {
  const world = testWorld({});
  world.size = () => ({ bytes: 40e6 });
  world.read = () => {
    throw new Error("it was read");
  };
  expect(await runCommand(["job", "job.yaml"], world)).toBe(2);
  expect(world.complained).toContain("The file is too big: 40 MB. Possible is 2.0 MB or less.");
});

test("a fault of ours is told apart from bad input", async () => {
  const world = testWorld({ "job.yaml": "bait: { thickness: 16 mm }" });
  world.print = () => {
    throw new TypeError("broken");
  };
  expect(await runCommand(["job", "job.yaml"], world)).toBe(1);
  expect(world.complained).toContain("A fault of castclock");
});

test("a job and a log that are both at fault are told together", async () => {
  const bad = "bait: { thickness: -3 mm }\nshot: { tempersature: 170 degC }\n";
  const said = async (question: string, log: string) => {
    const world = testWorld({ "job.yaml": bad, "log.csv": log });
    expect(await runCommand([question, "job.yaml", "log.csv"], world)).toBe(2);
    expect(world.printed).toBe("");
    return world.complained;
  };
  const plan = await said("plan", "mold,injected,opened\none,19:05,\n2,,19:12");
  expect(plan).toMatch(/^4 problems in job.yaml or log.csv/);
  for (const part of ["bait.thickness", "shot.tempersature", "line 2, mold", "line 3, injected"])
    expect(plan).toContain(part);
  const fit = await said("fit", "seconds,verdict\n390,great\n,good");
  expect(fit).toMatch(/^4 problems in job.yaml or log.csv/);
  for (const part of ["bait.thickness", "shot.tempersature", "line 2, verdict", "line 3, seconds"])
    expect(fit).toContain(part);
});

test("what is wrong with a job is told once, however many ends of a sweep meet it", async () => {
  const world = testWorld({ "job.yaml": "bait: { thickness: -3 mm }\n" });
  const ends = ["--vary", "room.temperature=10 degC..30 degC", "--vary", "bait.width=9 mm..120 mm"];
  const words = ["sweep", "job.yaml", ...ends, "--of", "demold", "--members", "4", "--out", "x"];
  expect(await runCommand(words, world)).toBe(2);
  const told = world.complained.match(/^ {2}bait.thickness: .*$/gm);
  expect(told).toHaveLength(1);
});

describe("all that is wrong is told at once", () => {
  const complaints = async (words: readonly string[], files: Record<string, string>) => {
    const world = testWorld(files);
    expect(await runCommand([...words], world)).toBe(2);
    return world.complained;
  };
  const POURS = `
  - { material: polyurethane, volume: 100 ml, ratio: "1:1", by: volume }
  - { material: filled epoxy, ratio: "100:12" }
  - { material: filled epoxy, volume: ten ml, ratio: "100:12" }`;

  test("of pours and of the rest of the job", async () => {
    const job = `bait: { thickness: 16 mmm }\nroom: { temperature: 20 degC }\nmix:\n  pours:${POURS.replaceAll("\n", "\n  ")}\n`;
    const text = await complaints(["mix", "job.yaml"], { "job.yaml": job });
    for (const place of [
      "bait.thickness",
      "mix.pours[0].densityA",
      "mix.pours[1]",
      "mix.pours[2].volume",
    ])
      expect(text).toContain(place);
    expect(text).toContain("4 problems");
    // the same ones once the rest is mended
    const mended = await complaints(["mix", "job.yaml"], {
      "job.yaml": job.replace("16 mmm", "16 mm").replace("ten ml", "10 ml"),
    });
    expect(mended).toContain("2 problems");
  });
  test("of a job and of a log", async () => {
    const job = "bait: { thickness: 16 mmm }\n";
    for (const [command, log, place] of [
      ["plan", "mold,injected,opened\nx,0 s,7 min\n", "line 2, mold"],
      ["fit", "time s, temperature degC\n0, 170\n60, warm\n", "line 3, temperature"],
    ] as const) {
      const text = await complaints([command, "job.yaml", "log.csv"], {
        "job.yaml": job,
        "log.csv": log,
      });
      expect(text, command).toContain("bait.thickness");
      expect(text, command).toContain(place);
      expect(text, command).toContain("2 problems");
    }
  });
});
