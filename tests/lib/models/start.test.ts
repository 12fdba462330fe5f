import { expect, test } from "vitest";
import { demold, layer, pour, readJob, shots, sprue, touch } from "../../../lib/index.ts";

const job = (more: string) => readJob(`bait: { thickness: 12 mm }\n${more}`).job;
const quickly = { quick: true, further: false } as const;

const mainNumbers: readonly [string, (more: string) => number][] = [
  ["demold", (more) => demold(job(more), quickly).answer.time.value],
  ["layer", (more) => layer(job(more), quickly).answer.close.value],
  ["touch", (more) => touch(job(more), { quick: true }).answer.opening],
  ["sprue", (more) => sprue(job(more), { quick: true }).answer.closes.value],
  ["shots", (more) => shots(job(more), { quick: true }).answer.first.value],
];

test.each(mainNumbers)("%s: a preheated mold starts as warm as that, both halves", (_, number) => {
  const preheated = number("run: { preheat: 45 degC }");
  const warm = number("mold: { temperature: 45 degC, upperTemperature: 45 degC }");
  expect(preheated).toBeCloseTo(warm, 9);
  expect(Math.abs(preheated / number("") - 1)).toBeGreaterThan(0.03);
});

const peak = (more: string) =>
  pour(readJob(`bait: { thickness: 16 mm }\n${more}`).job, { quick: true }).answer.peak.value;

test("a pour in a bath gives its heat to the water", () => {
  const pouring = "pour: { depth: 30 mm }";
  const inAir = peak(pouring);
  expect(peak(`${pouring}\nroom: { air: bath, bathTemperature: 5 degC }`)).toBeLessThan(inAir - 1);
});

test("a plate in a pour takes up heat as its own material does, through its own contact", () => {
  const plate = (more: string) =>
    `pour: { depth: 40 mm, plate: { thickness: 10 mm, distance: 6 mm, ${more} } }`;
  const aluminum = peak(plate("material: aluminum 6061"));
  expect(peak(plate("material: softwood"))).toBeGreaterThan(aluminum + 1);
  expect(peak(plate("material: aluminum 6061, contact: 50 W/(m^2 K)"))).not.toBeCloseTo(
    aluminum,
    2,
  );
});
