/** What is measured at the bench tells of the inputs that it is about, and of no other. Which tool tells of what: common practice, no source. */
import { expect, test } from "vitest";
import { leverCodes } from "../../../lib/answers/answer.ts";
import { readJob } from "../../../lib/job/job.ts";
import { measurements } from "../../../lib/models/measurements.ts";

const jobOf = (more = "") => readJob(`bait: { thickness: 16 mm }\n${more}`).job;

test.each([
  ["bait.thickness", "measure_thickness"],
  ["shot.temperature", "measure_shot"],
  ["layer.temperature", "measure_shot"],
  ["layer.second.temperature", "measure_shot"],
  ["cup.heats", "measure_shot"],
  ["mold.temperature", "measure_mold"],
  ["room.temperature", "measure_mold"],
  ["mold.material.conductivity", "measure_conductivity"],
  ["mold.material.filler", "measure_conductivity"],
  ["pour.material", "measure_conductivity"],
  ["shot.material.setTemperature", "measure_set"],
  ["limits.set", "measure_set"],
  ["shot.material.expansion", "weigh_baits"],
  ["shot.material.density", "weigh_baits"],
  ["swim.drag", "time_the_fall"],
  ["cup.yellowed", "measure_yellowing"],
  ["shot.material.degradationEnergy", "measure_yellowing"],
  ["shot.material.bondTemperature", "peel_test"],
  ["shot.material.healingTime", "peel_test"],
  ["pour.potLife", "measure_pot_life"],
  ["pour.thinFilm", "measure_pot_life"],
  ["pour.peakExotherm", "measure_pot_life"],
  ["pour.speed", "measure_pot_life"],
  ["pour.energy", "measure_pot_life"],
  ["pour.heat", "measure_pot_life"],
])("%s is told by %s alone, but for a bait that is logged", (input, code) => {
  const telling = measurements(jobOf()).filter(
    ({ leaves, repeats }) => repeats === null && Object.hasOwn(leaves, input),
  );
  expect(telling.map((one) => one.code)).toEqual([code]);
  const left = telling[0]!.leaves[input]!;
  expect(left > 0 && left < 1).toBe(true);
});

test("a bait with a probe in it tells of all that it cools by, together, as well as two baits agree", () => {
  const logged = measurements(jobOf()).filter(({ repeats }) => repeats !== null);
  expect(logged.map(({ code }) => code)).toEqual(["log_one_bait"]);
  const [{ leaves, repeats, takes }] = logged as [(typeof logged)[number]];
  expect(repeats).toBeGreaterThan(0);
  expect(repeats).toBeLessThan(0.2);
  expect(takes).toBe(15 * 60);
  const cooling =
    "bait.thickness shot.temperature mold.temperature room.temperature air mold.contact";
  const materials =
    "shot.material.conductivity shot.material.specificHeat mold.material.conductivity mold.material.filler";
  expect(Object.keys(leaves).sort()).toEqual(`${cooling} ${materials}`.split(" ").sort());
  for (const left of Object.values(leaves)) expect(left).toBe(1);
});

test("each is something to do, in minutes to an hour; what is known as well already is not narrowed", () => {
  const codes = measurements(jobOf()).map(({ code }) => code);
  expect(new Set(codes).size).toBe(codes.length);
  for (const { code, takes } of measurements(jobOf())) {
    expect(leverCodes).toContain(code);
    expect(takes).toBeGreaterThanOrEqual(60);
    expect(takes).toBeLessThanOrEqual(3600);
  }
  // a caliper reads 0.3 mm on soft plastic, a probe 2 K, a dot under the thermometer 3 K
  const leaves = (more: string, code: string, input: string) =>
    measurements(jobOf(more)).find((one) => one.code === code)!.leaves[input];
  const thick = (u: string) =>
    leaves(`uncertainty: { thickness: ${u} }`, "measure_thickness", "bait.thickness");
  expect(thick("1 mm")).toBeCloseTo(0.3, 9);
  expect(thick("0.1 mm")).toBe(1);
  const shot = "uncertainty: { shot: 8 K }";
  expect(leaves(shot, "measure_shot", "layer.second.temperature")).toBeCloseTo(0.25, 9);
  const mold = "uncertainty: { mold: 6 K, room: 4 K }";
  expect(leaves(mold, "measure_mold", "mold.temperature")).toBeCloseTo(0.5, 9);
  expect(leaves(mold, "measure_mold", "room.temperature")).toBeCloseTo(0.25, 9);
});
