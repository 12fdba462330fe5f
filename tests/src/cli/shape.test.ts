import { expect, test } from "vitest";
import { runCommand } from "../../../src/cli/command.ts";
import { drawing, job, mesh } from "../../lib/questions/shape/one-bait.ts";
import { binaryStl } from "../../lib/shape/solids.ts";
import { type TestWorld, testWorld } from "./world.ts";

const solid = binaryStl(mesh(48, 80));
const JOB = `# our own
name: Kept
mold: { wall: 15 mm } # thin
bait: { thickness: 9 mm }
`;

async function run(...words: string[]): Promise<TestWorld & { code: number }> {
  const world = testWorld({ "bait.svg": drawing(), "job.yaml": job, "mine.yaml": JOB });
  const withMesh: TestWorld = {
    ...world,
    size: (path) => (path === "bait.stl" ? { bytes: solid.length } : world.size(path)),
    bytes: (path) => (path === "bait.stl" ? { bytes: solid } : world.bytes(path)),
    print: (text) => {
      withMesh.printed += text;
    },
    complain: (text) => {
      withMesh.complained += text;
    },
  };
  const code = await runCommand(words, withMesh);
  return { ...withMesh, code };
}

test("a mesh makes a job, which answers alike", async () => {
  const made = await run("shape", "bait.stl", "--write", "new.yaml", "--json");
  expect(made.complained).toBe("The bait stands in new.yaml now.\n");
  const text = made.saved.get("new.yaml")!;
  expect(text).toMatch(/^name: bait\n/);
  const world = testWorld({ "new.yaml": text });
  expect(await runCommand(["shape", "new.yaml", "--json"], world)).toBe(0);
  const [a, b] = [made.printed, world.printed].map(
    (printed) =>
      (JSON.parse(printed) as { answer: { volume: { value: number; unit: string } } }).answer
        .volume,
  );
  expect(a!.unit).toBe("m^3");
  expect(Math.abs(b!.value / a!.value - 1)).toBeLessThan(0.02);
});

test("a job that is there keeps all but its bait, comments too", async () => {
  const { code, saved } = await run(
    "shape",
    "bait.svg",
    "--set",
    "mark=50mm",
    "--write",
    "mine.yaml",
  );
  expect(code).toBe(0);
  const text = saved.get("mine.yaml")!;
  expect(text).toContain("# our own\nname: Kept");
  expect(text).toContain("mold: { wall: 15 mm } # thin");
  expect(text).not.toContain("9 mm }");
  expect(text).toContain("name: thickest");
});

test("bad input: nothing is written", async () => {
  const cases: [string[], string][] = [
    [
      ["shape", "bait.stl", "--set", "unit=m"],
      "unit: A bait of 110000 mm? That is too long. Did you mean unit=mm?",
    ],
    [["shape", "bait.svg"], "mark: Nothing says how large the drawing is."],
    [["shape", "bait.svg", "--set", "mrak=5mm"], "Did you mean mark?"],
    [["shape", "bait.stl", "--set", "weight=5"], "weight: 5 has no unit."],
    [["shape", "bait.stl", "--set", "up=w"], "up: "],
    // what has no use there is not passed over
    [["shape", "bait.stl", "--set", "length=50cm"], "length: A mesh has no use for this"],
    [["shape", "bait.stl", "--set", "mark=50mm"], "Possible: unit, up, nose, weight, displaced."],
    [["shape", "bait.stl", "--set", "nose=left"], "Possible: low, high."],
    [["shape", "bait.svg", "--set", "up=z"], "up: A drawing has no use for this"],
    [["shape", "job.yaml", "--set", "mark=5mm"], "mark: A shape of stations has no use for this"],
    [["shape", "no.stl"], "no.stl: There is no such file."],
    [["demold", "job.yaml", "--write", "x.yaml"], "castclock demold has no use for --write"],
    [["shape", "bait.stl", "--write"], "--write needs a value"],
  ];
  for (const [words, says] of cases) {
    const { code, complained, printed, saved } = await run(
      ...words,
      ...(words.includes("--write") ? [] : ["--write", "x.yaml"]),
    );
    expect(complained, words.join(" ")).toContain(says);
    expect({ code, printed, files: saved.size }).toEqual({ code: 2, printed: "", files: 0 });
  }
});

test("pictures from three sides", async () => {
  const { saved } = await run("shape", "job.yaml", "--svg", "pictures");
  expect([...saved.keys()]).toEqual([
    "pictures/shape-side.svg",
    "pictures/shape-top.svg",
    "pictures/shape-sections.svg",
  ]);
});
