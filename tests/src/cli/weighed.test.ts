import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { runCommand } from "../../../src/cli/command.ts";
import { outputLines } from "../../../src/cli/page-text.ts";
import { runPageText } from "../../../src/notebook/run/runner-node.ts";
import { buildPrelude } from "../../../tools/vite-plugins.ts";
import { testWorld } from "./world.ts";

const BODY = "bait: { thickness: 16 mm, length: 4 in }\n";

async function asked(question: string, job: string, units: string): Promise<string> {
  const world = testWorld({ "job.yaml": job });
  expect(await runCommand([question, "job.yaml", "--units", units], world)).toBe(0);
  return world.printed;
}

async function sheet(jobText: string) {
  const { outputs } = await runPageText({
    text: readFileSync(new URL("../../../notebooks/mix-and-master.md", import.meta.url), "utf8"),
    jobText,
    prelude: await buildPrelude("full"),
  });
  return outputs.flat();
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
  expect(text).toContain("of 3.53 oz at 77 °F");
  expect(text).toContain("it halves for every 18");
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

test("the sheet's shrinkages and lengths are those of the command", async () => {
  const jobText = `${BODY}shrink: { steps: [{ material: polymer clay }, { material: filled epoxy }, { material: soft plastisol }] }\n`;
  for (const [units, system] of [
    ["metric", "metric"],
    ["us", "shop-us"],
  ] as const) {
    const page = (await sheet(jobText)).flatMap((output) => outputLines(output, system));
    const command = await asked("shrink", jobText, units);
    const [, larger] = /Sculpt it (.*) larger/.exec(command)!;
    expect(page).toContain(`Sculpt larger by: ${larger}`);
    const [, long] = /first master is (.*) long/.exec(command)!;
    expect(page).toContain(`Length of the first master: ${long}`);
    for (const name of ["polymer clay", "filled epoxy", "soft plastisol"]) {
      const cells = (lines: readonly string[]) =>
        lines
          .find((line) => line.trim().startsWith(name))!
          .trim()
          .split(/ {2,}/)
          .slice(-5);
      expect(cells(page)).toEqual(cells(command.split("\n")));
    }
  }
}, 60_000);

const SMALL = `${BODY}mix: { scale: SCALE, pours: [{ name: tiny, material: filled epoxy, volume: 1 fl oz, ratio: "100:4" }, { name: two, material: polyurethane, volume: 250 ml, ratio: "2:1" }] }\n`;

test.each(["5 g", "0.1 oz", "1 g"])(
  "on a scale of %s nothing that is needed reads as nothing, and no digit is finer than it bears out",
  async (scale) => {
    const text = await asked("mix", SMALL.replace("SCALE", scale), "us");
    expect(text).not.toMatch(/(?<![\d.])0 oz|(?<![\d.])0 g|\d{4}\.\d+ g/);
    expect(text).not.toMatch(/\d{3}\.\d+ %/);
    if (scale === "1 g") return;
    expect(text).toMatch(
      /^tiny: it takes 0\.07\d oz \(2\.\d+ g\) of B, less than one step of this scale: that cannot be weighed on it; steps of 0\.05 g would do\.$/m,
    );
    expect(text).not.toContain("mix a larger batch");
    expect(text).toMatch(/^tiny .*under .*, may smoke/m);
  },
);

test.each(["0.1 oz", "5 g", "1 g"])(
  "the page weighs on a scale of %s what the command weighs",
  async (scale) => {
    const jobText = SMALL.replace("SCALE", scale);
    const page = (await sheet(jobText)).flatMap((output) => outputLines(output, "metric"));
    const command = await asked("mix", jobText, "metric");
    const cells = (lines: readonly string[], name: string) =>
      lines
        .filter((line) => line.trim().startsWith(`${name}  `))
        .map((line) => line.trim().split(/ {2,}/));
    for (const name of ["tiny", "two"]) {
      const [row] = cells(command.split("\n"), name);
      const [weighed, judged] = cells(page, name);
      expect(weighed!.slice(2, 4)).toEqual(row!.slice(3, 5));
      expect(judged!.slice(1, 3)).toEqual(row!.slice(5, 7));
    }
  },
  60_000,
);

test("what is to mix is never nothing: too light for the scale it is told to be that", async () => {
  for (const step of ["1 oz", "2 g", "50 g"])
    for (const ml of [3, 18, 40, 400]) {
      const job = `${BODY}mix: { scale: ${step}, pours: [{ name: dab, material: polyurethane, volume: ${ml} ml, ratio: "100:30" }] }\n`;
      const text = await asked("mix", job, "us");
      const [, all, a, b] = /^dab +[\d.]+ fl oz +(.+?) {2,}(.+?) {2,}(.+?) {2,}/m.exec(text)!;
      expect(all, `${step} ${ml}`).not.toMatch(/^0 /);
      const [mass, massA, massB] = [all, a, b].map((one) => pairsOf(one!)[0]![0]);
      if (/under/.test(all!)) expect(`${a} ${b}`).toMatch(/under .* under/);
      else if (!/under/.test(`${a} ${b}`))
        expect(Math.abs(mass! - massA! - massB!)).toBeLessThan(0.021);
    }
});
