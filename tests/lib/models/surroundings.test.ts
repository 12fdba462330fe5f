/** What the air of a room takes, against handbook values. */
import { expect, test } from "vitest";
import { type Boundary, readJob } from "../../../lib/index.ts";
import type { Scenario } from "../../../lib/models/scenario.ts";
import { surroundingsOf } from "../../../lib/models/surroundings.ts";
import { uncertainInputs } from "../../../lib/models/uncertain-inputs.ts";
import { NINE_OF_TEN } from "../../../lib/numerics/deviates.ts";

const job = (room: string) =>
  readJob(`bait: { thickness: 16 mm }\nmold: { wall: 20 mm }\nroom: { ${room} }`).job;

const convectionOf = (b: Boundary) =>
  b.kind === "exchange" && typeof b.h === "number" ? b.h : Number.NaN;

test("a fan stirs 1.3 to 2 times what a quiet stream along a plate takes", () => {
  const speed = 2;
  const { outside } = surroundingsOf(job(`air: fan, fanSpeed: ${speed} m/s`));
  // laminar flow along an isothermal plate: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, eq. 7.30;
  // air near 305 K, table A.4
  const [length, viscosity, conductivity, prandtl] = [0.056, 1.64e-5, 0.0267, 0.706];
  const quiet =
    0.664 * Math.sqrt((speed * length) / viscosity) * prandtl ** (1 / 3) * (conductivity / length);
  const stirred = convectionOf(outside) / quiet;
  // from memory
  expect(stirred).toBeGreaterThan(1.3);
  expect(stirred).toBeLessThan(2);
  // and more than still air does
  const still = surroundingsOf(job("air: still")).outside;
  expect(convectionOf(outside)).toBeGreaterThan(2 * convectionOf(still));
});

test("correlations of air are taken to hold within 15 to 30 %", () => {
  // up to 25 % for external flow: Incropera & DeWitt, section 7.1 (from memory)
  const scenario = { job: job("air: still"), airFactor: 1 } as Scenario;
  const air = uncertainInputs(scenario.job).find(({ name }) => name === "air");
  const [low, high] = [-NINE_OF_TEN, NINE_OF_TEN].map((z) => air?.at(scenario, z).airFactor ?? 0);
  expect(low).toBeGreaterThan(0.7);
  expect(low).toBeLessThan(0.85);
  expect(high).toBeGreaterThan(1.15);
  expect(high).toBeLessThan(1.3);
});
