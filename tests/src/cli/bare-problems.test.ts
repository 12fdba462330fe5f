import { expect, test } from "vitest";
import { runCommand } from "../../../src/cli/command.ts";
import { testWorld } from "./world.ts";

const JOB = `
bait: { thickness: 6 mm, length: 60 mm }
mold: { wall: 10 mm }
run: { shots: 3, open: 20 s, preheat: 32 degC }
pour: { depth: 20 mm }
layer: { depth: 2 mm }
`;

/** The number at a path such as `stageEnds[1] - stageEnds[0]` or `extremes.wall.max`. */
function valueAt(data: unknown, path: string): number {
  const [first, ...others] = path.split(" - ").map((one) =>
    one
      .split(/[.[\]]+/)
      .filter((key) => key !== "")
      .reduce<unknown>((x, key) => (x as Record<string, unknown>)[key], data),
  ) as number[];
  return others.reduce((sum, x) => sum - x, first!);
}

async function written(question: string, more: readonly string[] = []) {
  const world = testWorld({ "job.yaml": JOB });
  const code = await runCommand(
    [question, "job.yaml", "--json", "--problem", "out", ...more],
    world,
  );
  expect(world.complained).toBe("");
  expect(code).toBe(0);
  const { answer } = JSON.parse(world.printed) as { answer: unknown };
  const index = JSON.parse(world.saved.get(`out/${question}-problems.json`)!) as {
    file: string;
    gives: Record<string, string>;
  }[];
  return { answer, index, files: world.saved };
}

async function solved(text: string): Promise<unknown> {
  const world = testWorld({ "problem.json": text });
  const code = await runCommand(["solve", "problem.json"], world);
  expect(world.complained).toBe("");
  expect(code).toBe(0);
  return JSON.parse(world.printed);
}

// what the answer takes from grids and steps of its own, a file leaves to those of `solve`
const WITHIN = 0.01;

test.each(["demold", "shots", "sprue", "touch", "layer", "pour"])(
  "the bare problems of %s, solved, give the numbers of the answer",
  async (question) => {
    const { answer, index, files } = await written(question);
    expect(index.length).toBeGreaterThan(0);
    for (const { file, gives } of index) {
      const solution = await solved(files.get(`out/${file}`)!);
      expect(Object.keys(gives).length).toBeGreaterThan(0);
      for (const [ours, theirs] of Object.entries(gives)) {
        const [expected, found] = [valueAt(answer, ours), valueAt(solution, theirs)];
        expect(
          Math.abs(found / expected - 1),
          `${file}: ${ours} ${expected}, ${theirs} ${found}`,
        ).toBeLessThan(WITHIN);
      }
    }
  },
  120_000,
);

test("a question without heat has none to write; the quick look is not what they belong to", async () => {
  for (const [words, said] of [
    [["mix", "job.yaml", "--problem", "out"], /no bare problem.*possible: demold/s],
    [["demold", "job.yaml", "--problem", "out", "--quick"], /leave out --quick/],
  ] as const) {
    const world = testWorld({ "job.yaml": JOB });
    expect(await runCommand(words, world)).toBe(2);
    expect(world.complained).toMatch(said);
    expect(world.saved.size).toBe(0);
  }
});
