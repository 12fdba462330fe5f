/** How long a batch can be used: of the job's own resin as its pour has it, of others as the catalog does. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { timeToCure } from "../../../../lib/cure/isothermal.ts";
import { readJob } from "../../../../lib/job/job.ts";
import { materialNamed } from "../../../../lib/materials/catalog.ts";
import { LIKELY_RESIN, resinMaker } from "../../../../lib/models/pour/resin.ts";
import { mix } from "../../../../lib/questions/mix/mix.ts";
import { pour as askPour } from "../../../../lib/questions/pour/pour.ts";
import { runCommand } from "../../../../src/cli/command.ts";
import { testWorld } from "../../../src/cli/world.ts";

const RESINS = ["filled epoxy", "epoxy, room-cured", "polyurethane"] as const;

const jobWith = (pour: string, more = "") =>
  readJob(`{ bait: { thickness: 16 mm, length: 4 in }, pour: { ${pour} }${more} }`).job;
const poursOf = (pour: string, more = "") => mix(jobWith(pour, more)).answer.pours;
const halves = (pour: string) => poursOf(pour).filter(({ name }) => /half/.test(name));

test("what a sheet says is what is answered, and as unsure as a pot life is read off: 15 % to either side", () => {
  const typed = fc.record({
    resin: fc.constantFrom(...RESINS),
    minutes: fc.integer({ min: 2, max: 300 }),
    grams: fc.integer({ min: 20, max: 900 }),
    at: fc.integer({ min: 15, max: 35 }),
    film: fc.boolean(),
    hardener: fc.constantFrom("fast", "slow"),
  });
  fc.assert(
    fc.property(typed, ({ resin, minutes, grams, at, film, hardener }) => {
      const pour = `material: "${resin}", hardener: ${hardener}, potLife: { time: ${minutes} min, mass: ${grams} g, at: ${at} degC }${film ? ", thinFilm: { time: 20 h }" : ""}`;
      for (const { potLife } of halves(pour)) {
        expect(potLife!.value).toBeCloseTo(60 * minutes, 6);
        // common practice, no source
        expect(potLife!.low / potLife!.value).toBeCloseTo(0.85, 9);
        expect(potLife!.high / potLife!.value).toBeCloseTo(1.15, 9);
        expect(potLife!.mass).toBeCloseTo(grams / 1000, 9);
        expect(potLife!.at).toBeCloseTo(at + 273.15, 9);
      }
    }),
    { numRuns: 60, seed: 31 },
  );
});

test.each(RESINS)(
  "%s without a sheet: a fast hardener leaves less time, a slow one more",
  (resin) => {
    const [fast, medium, slow, none] = ["fast", "medium", "slow", null].map(
      (word) => halves(`material: "${resin}"${word ? `, hardener: ${word}` : ""}`)[0].potLife!,
    );
    const { potLife, potLifeMass } = materialNamed(resin).resin!;
    expect(medium).toEqual(none);
    expect([none.low, none.value, none.high]).toEqual([potLife.low, potLife.value, potLife.high]);
    expect(none.mass).toBe(potLifeMass);
    for (const end of ["low", "value", "high"] as const) {
      expect(fast[end]).toBeLessThan(medium[end]);
      expect(slow[end]).toBeGreaterThan(medium[end]);
    }
  },
);

describe("a thin film alone", () => {
  test.each(RESINS.flatMap((resin) => [8, 90].map((minutes) => [resin, minutes] as const)))(
    "%s: the film of a resin with a pot life of %d min has that pot life",
    (resin, minutes) => {
      const own = jobWith(`material: "${resin}", potLife: { time: ${minutes} min, mass: 100 g }`);
      const { material, gel } = resinMaker(own, { vitrification: false })(LIKELY_RESIN);
      const film = timeToCure(material.cure!.law, 298.15, { from: 1e-6, to: gel })!;
      const [{ potLife }] = halves(`material: "${resin}", thinFilm: { time: ${film} s }`);
      // nothing but the film was told; its cup has so much of its own, and the catalog's size
      expect(potLife!.mass).toBe(materialNamed(resin).resin!.potLifeMass);
      expect(potLife!.value / (60 * minutes)).toBeCloseTo(1, 2);
      expect(potLife!.low).toBeLessThan(potLife!.value);
      expect(potLife!.high).toBeGreaterThan(potLife!.value);
    },
  );

  test("a cup warms itself: it gels before its film, 15 % of reading included, and a warmer one sooner", () => {
    for (const hours of [1, 8, 48])
      for (const at of [10, 25, 40]) {
        const [{ potLife }] = halves(`thinFilm: { time: ${hours} h, at: ${at} degC }`);
        expect(potLife!.value).toBeLessThan(3600 * hours);
        expect(potLife!.high).toBeLessThan(1.15 * 3600 * hours * (1 + 1e-6));
        expect(potLife!.at).toBeCloseTo(at + 273.15, 9);
      }
  });
});

test("what the job says of its own resin is told of no other", () => {
  const pours = `, mix: { pours: [${RESINS.map((m) => `{ material: "${m}", volume: 50 ml }`).join(", ")}] }`;
  const usual = poursOf(`material: "filled epoxy"`, pours);
  const typed = poursOf(
    `material: "filled epoxy", potLife: { time: 10 min, mass: 500 g, at: 20 degC }`,
    pours,
  );
  expect(typed[0].potLife).toMatchObject({ value: 600, mass: 0.5, at: 293.15 });
  expect(typed.slice(1).map((p) => p.potLife)).toEqual(usual.slice(1).map((p) => p.potLife));
});

test("a person reads no more time than there is", async () => {
  const shown = async (time: string) => {
    const world = testWorld({
      "job.yaml": `{ bait: { thickness: 16 mm, length: 4 in }, pour: { potLife: { time: ${time}, mass: 100 g } } }`,
    });
    expect(await runCommand(["mix", "job.yaml"], world)).toBe(0);
    return /^first half .*most likely (.+) of 100 g at 25 °C$/m.exec(world.printed)![1];
  };
  expect(await shown("45 min")).toBe("45 min");
  expect(await shown("2719 s")).toBe("45 min");
  expect(await shown("2699 s")).toBe("44 min");
  expect(await shown("3 h")).toBe("3 h");
  expect(await shown("100 s")).toBe("1 min 40 s");
});

describe("a word for the hardener beside a time of the sheet", () => {
  const TIMES = ["potLife: { time: 40 min }", "thinFilm: { time: 6 h }"];
  const ignoredIn = (pour: string) => {
    const job = jobWith(pour);
    return [mix(job).ignored, askPour(job, { quick: true, brief: true }).ignored];
  };
  test.each(TIMES)("%s: it moves nothing, and that is said", (time) => {
    for (const word of ["fast", "slow"]) {
      for (const ignored of ignoredIn(`${time}, hardener: ${word}`))
        expect(ignored).toContain("hardener_word");
      expect(halves(`${time}, hardener: ${word}`)).toEqual(halves(time));
      for (const ignored of ignoredIn(`hardener: ${word}`))
        expect(ignored).not.toContain("hardener_word");
    }
    for (const ignored of ignoredIn(time)) expect(ignored).not.toContain("hardener_word");
  });

  test("it is asked for only where no time tells how fast it is", () => {
    const asked = (pour: string) =>
      readJob(`{ bait: { thickness: 16 mm }, pour: { ${pour} } }`).defaults;
    expect(asked("depth: 20 mm")).toContain("pour.hardener");
    expect(asked("peakExotherm: { temperature: 120 degC }")).toContain("pour.hardener");
    for (const time of TIMES) expect(asked(time)).not.toContain("pour.hardener");
  });

  test("a mix of other resins alone leaves nothing of it out", () => {
    const others = `, mix: { pours: [{ material: polyurethane, volume: 90 ml }] }`;
    const job = jobWith(`${TIMES[0]}, hardener: slow`, others);
    expect(mix(job).ignored).not.toContain("hardener_word");
  });
});
