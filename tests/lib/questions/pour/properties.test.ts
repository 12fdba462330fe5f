import fc from "fast-check";
import { expect, test } from "vitest";
import { makeTabulatedRateLaw } from "../../../../lib/cure/tabulated.ts";
import type { HeatProblem } from "../../../../lib/heat/problem.ts";
import { simulate } from "../../../../lib/heat/simulate.ts";
import { readJob } from "../../../../lib/job/job.ts";
import { highest } from "../../../../lib/models/pour/moments.ts";
import { pourLine, pourSection, settingOf } from "../../../../lib/models/pour/problem.ts";
import { LIKELY_RESIN, resinMaker } from "../../../../lib/models/pour/resin.ts";

/** Any pour that a job can ask for, within what is physical. */
const anyPour = fc.record({
  depth: fc.integer({ min: 4, max: 120 }), // mm
  room: fc.integer({ min: 5, max: 38 }), // degC
  hours: fc.integer({ min: 1, max: 30 }),
  material: fc.constantFrom(
    "filled epoxy",
    "epoxy",
    "polyurethane",
    "filled polyurethane",
    "silicone",
  ),
  clay: fc.integer({ min: 5, max: 60 }),
});
type AnyPour = typeof anyPour extends fc.Arbitrary<infer T> ? T : never;

const jobOf = ({ depth, room, hours, material, clay }: AnyPour) =>
  readJob(`
bait: { thickness: 6 mm }
room: { temperature: ${room} degC }
pour: { material: ${material}, depth: ${depth} mm, thinFilm: { time: ${hours} h, at: 25 degC }, clay: { thickness: ${clay} mm } }`)
    .job;

const RUNS = { numRuns: 40, seed: 1125 };
const UNTIL = 5 * 86400;

test("cure stays within 0 and 1 and never falls; every joule is accounted for", () => {
  fc.assert(
    fc.property(anyPour, (given) => {
      const job = jobOf(given);
      const resin = resinMaker(job)(LIKELY_RESIN);
      const setting = settingOf(job);
      const times = Array.from({ length: 40 }, (_, i) => UNTIL * 2000 ** (i / 39 - 1));
      const history = simulate(
        pourLine(job, resin, setting, { until: UNTIL, snapshots: times, estimateGrid: false }),
      );
      // every box of the grid, at every time looked at
      let before: Float32Array = history.snapshots[0].temperature.map(() => 0);
      let most = 0;
      for (const { cure } of history.snapshots) {
        cure!.forEach((a, i) => {
          most = Math.max(most, a);
          if (!(a >= before[i] - 1e-7 && a <= 1)) expect.fail(`cure ${a} after ${before[i]}`);
        });
        before = cure!;
      }
      expect(most).toBeGreaterThan(0.1);
      expect(history.effort.energyImbalance).toBeLessThan(1e-8);
    }),
    RUNS,
  );
});

test("no pour with stock as warm as the room holds more heat than it makes", () => {
  fc.assert(
    fc.property(anyPour, (given) => {
      const job = jobOf(given);
      const resin = resinMaker(job)(LIKELY_RESIN);
      const setting = settingOf(job);
      const line = pourLine(job, resin, setting, { until: UNTIL, estimateGrid: false });
      const history = simulate({
        ...line,
        probes: { ...line.probes, mean: { kind: "mean", region: "resin" } },
      });
      const limit = setting.stock + (resin.heat / resin.specificHeat) * (1 + 1e-9);
      expect(highest(history, "mean").value).toBeLessThanOrEqual(limit);
      // A single place may get hotter where a thin front of reaction runs through neat resin: heat runs ahead of it
      // and cure does not. Metal powder spreads the heat, and silicone has next to none.
      if (given.material === "filled epoxy" || given.material === "silicone")
        expect(highest(history, "hot").value).toBeLessThanOrEqual(limit);
    }),
    RUNS,
  );
});

test("heat released is rho H times the cure, to 1e-8: an insulated slab keeps it all", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 2e3, max: 5e5, noNaN: true }),
      fc.double({ min: 0.3, max: 2.5, noNaN: true }),
      fc.integer({ min: 280, max: 330 }),
      (heat, n, T) => {
        const law = makeTabulatedRateLaw({ law: "nth-order", A: 1e6, E: 58e3, n });
        const problem: HeatProblem = {
          frame: "slab",
          materials: {
            resin: {
              name: "resin",
              conductivity: 0.5,
              density: 1500,
              specificHeat: 1400,
              cure: { law, heat, initial: 0 },
            },
          },
          layers: [{ name: "resin", material: "resin", thickness: 0.02, initial: T }],
          boundary: {},
          stages: [{ until: 2e5 }],
          probes: { mean: { kind: "mean", region: "resin" }, place: { kind: "point", x: 0.01 } },
          times: [2e5],
          estimateGrid: false,
        };
        const history = simulate(problem);
        const cure = history.cure["place"]?.[0] ?? 0;
        const released = heat * cure;
        const stored = 1400 * (history.probes["mean"][0] - T);
        // reading a place between boxes adds rounding: relative to what can be released
        expect(Math.abs(stored - released) / heat).toBeLessThan(1e-8);
        expect(history.effort.energyImbalance).toBeLessThan(1e-8);
      },
    ),
    RUNS,
  );
});

test("deeper is hotter, and a warmer room is hotter", () => {
  fc.assert(
    fc.property(anyPour, (given) => {
      const peak = (change: Partial<AnyPour>) => {
        const job = jobOf({ ...given, ...change });
        const resin = resinMaker(job)(LIKELY_RESIN);
        const setting = settingOf(job);
        return (
          highest(
            simulate(pourLine(job, resin, setting, { until: UNTIL, estimateGrid: false })),
            "hot",
          ).value - setting.room
        );
      };
      const here = peak({});
      if (here > 100) return; // run away already: how hot no longer depends on the depth
      expect(peak({ depth: Math.round(given.depth * 1.3) + 1 })).toBeGreaterThan(here - 0.2);
      // over the room, as long as it is not a full runaway already
      if (here < 40 && given.room < 34)
        expect(peak({ room: given.room + 4 })).toBeGreaterThan(here - 0.2);
    }),
    { numRuns: 25, seed: 1126 },
  );
});

test("the cut across a wide box is the 1-D pour; a narrow box is cooler", () => {
  const peaks = (width: string) => {
    const { job } = readJob(`
bait: { thickness: 6 mm }
pour: { depth: 25 mm, thinFilm: { time: 6 h, at: 25 degC }, box: { width: ${width}, length: 1500 mm },
        masters: { count: 0 } }`);
    const resin = resinMaker(job)(LIKELY_RESIN);
    const setting = settingOf(job);
    const options = { until: UNTIL, estimateGrid: false };
    const cut = pourSection(job, resin, setting, { ...options, resolution: 0.5 });
    return [
      highest(simulate(pourLine(job, resin, setting, options)), "hot").value,
      highest(simulate(cut), "hot").value,
    ];
  };
  const [lineWide, wide] = peaks("900 mm");
  expect(Math.abs(wide / lineWide - 1)).toBeLessThan(0.01);
  const [line, narrow] = peaks("50 mm");
  expect(narrow).toBeLessThan(line - 3);
});
