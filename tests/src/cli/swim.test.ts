import { expect, test } from "vitest";
import { runCommand } from "../../../src/cli/command.ts";
import { testWorld } from "./world.ts";

const JOB = `bait:
  length: 4.5 in
  stations:
    - { name: nose, at: 0 in, width: 0.1 in, height: 0.1 in }
    - { name: shoulder, at: 1 in, width: 0.5 in, height: 0.7 in }
    - { name: peduncle, at: 3 in, width: 0.2 in, height: 0.25 in }
    - { name: paddle, at: 4.4 in, width: 0.12 in, height: 0.8 in, form: flat, rise: -0.1 in }
swim:
  water: salt
  hook: { name: 4/0, mass: 3 g, gap: 14 mm, at: 1.5 in, below: 0.1 in }
  weights:
    - { name: keel, mass: WEIGHT, metal: tungsten, at: 1.2 in, below: 0.3 in }
`;

async function asked(weight: string, ...words: string[]): Promise<string> {
  const world = testWorld({ "job.yaml": JOB.replace("WEIGHT", weight) });
  expect(await runCommand(["swim", "job.yaml", ...words], world)).toBe(0);
  return world.printed;
}

test.each([
  ["us", 0.0254],
  ["metric", 0.01],
])(
  "in %s the ends of a speed's range are rounded outwards, whatever its weight",
  async (system, unit) => {
    for (const weight of ["1 g", "2 g", "3.54 g", "5 g", "8 g"]) {
      const { speed } = (
        JSON.parse(await asked(weight, "--json")) as {
          answer: { speed: { low: number; high: number } };
        }
      ).answer;
      const text = await asked(weight, "--units", system);
      const [, low, high] = /between ([\d.]+) \w+ a second and ([\d.]+) \w+ a second/.exec(text)!;
      expect(Number(low)).toBeLessThanOrEqual(speed.low / unit);
      expect(Number(high)).toBeGreaterThanOrEqual(speed.high / unit);
      // by no more than the two digits of each
      expect(Number(low)).toBeGreaterThan((speed.low / unit) * 0.9);
      expect(Number(high)).toBeLessThan((speed.high / unit) * 1.1);
    }
  },
);
