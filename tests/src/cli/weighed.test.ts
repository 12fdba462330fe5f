import { expect, test } from "vitest";
import { runCommand } from "../../../src/cli/command.ts";
import { testWorld } from "./world.ts";

const BODY = "bait: { thickness: 16 mm, length: 4 in }\n";

async function asked(question: string, job: string, units: string): Promise<string> {
  const world = testWorld({ "job.yaml": job });
  expect(await runCommand([question, "job.yaml", "--units", units], world)).toBe(0);
  return world.printed;
}

/** Every "0.2 oz (5.67 g)" of a text. */
const pairsOf = (text: string) =>
  [...text.matchAll(/(\d[\d.]*) oz \((\d[\d.]*) g\)/g)].map(
    (m) => [Number(m[1]), Number(m[2])] as const,
  );

test("grams beside ounces are those of the ounces shown, which are whole steps of the scale", async () => {
  const job = `${BODY}mix: { scale: 0.1 oz, pours: [{ name: cup, material: polyurethane, volume: 11 ml, ratio: "100:90" }] }\n`;
  const text = await asked("mix", job, "us");
  const pairs = pairsOf(text);
  expect(pairs.length).toBeGreaterThan(5);
  for (const [oz, g] of pairs) {
    // an avoirdupois ounce is 28.349523125 g by definition
    expect(Math.abs(g - oz * 28.349523125)).toBeLessThan(0.051);
    expect(Math.abs(oz * 10 - Math.round(oz * 10))).toBeLessThan(1e-9);
  }
  // what is to mix is what is weighed
  const row = /^cup .*$/m.exec(text.slice(text.indexOf("to fill")))![0];
  const [all, a, b] = pairsOf(row);
  expect(all![0]).toBeCloseTo(a![0] + b![0], 9);
  // a ratio that far off stands at the top
  expect(text.slice(0, text.indexOf("to fill"))).toMatch(
    /too little for this scale.* \d+(\.\d)? % off/,
  );
  expect(text).toContain("at 77 °F; it halves for every 18");
  expect(text).not.toMatch(/°C|\d K\b/);
});

test("a shrinkage has the digits of its source, and lengths go with the shares beside them", async () => {
  const job = `${BODY}shrink: { steps: [{ material: polymer clay }, { material: filled epoxy }, { material: soft plastisol }] }\n`;
  const text = await asked("shrink", job, "metric");
  const rows = Object.fromEntries(
    text.split("\n").map((line) => [line.split(/ {2,}/)[0], line.split(/ {2,}/)]),
  );
  // as the catalog has them
  expect(rows["polymer clay"]!.slice(2, 5)).toEqual(["0.7 %", "0 %", "2 %"]);
  expect(rows["filled epoxy"]!.slice(2, 5)).toEqual(["0.15 %", "0.05 %", "0.3 %"]);
  expect(rows["soft plastisol"]!.slice(2, 5)).toEqual(["2.3 %", "1.5 %", "3.5 %"]);
  expect(rows["polymer clay"]![5]).toBe("99.3 %");
  // 101.6 mm / (0.993 * 0.9985 * 0.977) by hand
  expect(text).toContain("most likely 104.9 mm long");
  expect(text).toContain("most likely 3.2 % larger");
});

test("in a reader's units the sentences about a pour have no others", async () => {
  const text = await asked("pour", `${BODY}pour: { mass: 1.2 kg }\n`, "us");
  expect(text).toContain("It gets above 212 °F");
  // the peak alone is given in both, in brackets
  const sentences = text.split("\n").filter((line) => !line.startsWith("Hottest:"));
  expect(sentences.join("\n")).not.toMatch(/\d °C/);
  expect(text).toMatch(/\d °F to \d+ °F becomes about/);
});
