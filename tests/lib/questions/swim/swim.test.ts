import { describe, expect, test } from "vitest";
import { cylinderDrag, cylinderEnds, streamlinedDrag } from "../../../../lib/formulas/drag.ts";
import { freshWater, waterViscosity } from "../../../../lib/formulas/water.ts";
import { readJob } from "../../../../lib/job/job.ts";
import { shape } from "../../../../lib/questions/shape/shape.ts";
import { balanceOf, filledPlastic } from "../../../../lib/questions/swim/balance.ts";
import { swim } from "../../../../lib/questions/swim/swim.ts";
import { InputError } from "../../../../lib/units/problem.ts";

const bar = (more = "", bait = "thickness: 16 mm") =>
  swim(readJob(`bait: { length: 100 mm, ${bait} }\n${more}`).job).answer;

describe("Archimedes", () => {
  test("weight in water: mass less that of the water displaced", () => {
    const { mass, volume, netMass, water } = bar();
    const cylinder = (Math.PI / 4) * 0.016 ** 2 * 0.1;
    expect(volume.value / cylinder).toBeCloseTo(1, 4);
    expect(netMass.value).toBeCloseTo(mass.value - water * cylinder, 6);
    expect(water).toBeCloseTo(freshWater(288.15), 6);
  });

  test("a lead weight loses its own volume of water, an eleventh", () => {
    const { parts } = bar("swim: { weights: [{ mass: 5 g, at: 20 mm }] }");
    const lead = parts.find(({ name }) => name === "weight")!;
    expect(lead.netMass / lead.mass).toBeCloseTo(1 - 999.1 / 11340, 3);
  });

  test("sea water lifts more", () => {
    const [fresh, salt] = ["fresh", "salt"].map(
      (water) => bar(`swim: { water: ${water} }`).netMass.value,
    );
    expect(fresh! - salt!).toBeCloseTo(26.9 * (Math.PI / 4) * 0.016 ** 2 * 0.1, 5);
  });

  test("plastic with salt and hollow spheres, by volumes", () => {
    // 70 g of 1000, 20 g of 2165, 10 g of 250 kg/m3: 70 + 9.24 + 40 ml
    expect(filledPlastic(1000, 0.2, 0.1)).toBeCloseTo(
      (100 / (70 + 20 / 2.165 + 10 / 0.25)) * 1000,
      6,
    );
  });
});

test("a bar sinks level, as fast as a cylinder of its drag", () => {
  const { speed, pitch, netMass, water } = bar();
  expect(pitch.value).toBeCloseTo(0, 6);
  const viscosity = waterViscosity(288.15);
  const Re = (water * speed.value * 0.016) / viscosity;
  const drag =
    0.5 * water * speed.value ** 2 * 0.016 * 0.1 * cylinderDrag(Re) * cylinderEnds(100 / 16);
  expect(drag / (netMass.value * 9.80665)).toBeCloseTo(1, 3);
  expect(speed.low).toBeLessThan(speed.value);
  expect(speed.high).toBeGreaterThan(speed.value * 1.1);
});

test("a hook that outweighs a thin bar by far is borne by the drag across and along it, though nose first it would sink faster than anything", () => {
  const { speed, pitch, netMass, water } = bar(
    "swim: { hook: { mass: 80 g, at: 0 mm } }",
    "thickness: 3.6 mm",
  );
  const viscosity = waterViscosity(288.15);
  const [d, length] = [0.0036, 0.1];
  const [across, along] = [Math.cos, Math.sin].map((part) => speed.value * part(pitch.value));
  const normal =
    0.5 * water * across! ** 2 * d * length * cylinderDrag((water * across! * d) / viscosity);
  const friction = streamlinedDrag((water * along! * length) / viscosity, length / d);
  const axial = 0.5 * water * along! ** 2 * Math.PI * d * length * friction;
  const drag =
    normal * cylinderEnds(length / d) * Math.cos(pitch.value) + axial * Math.sin(pitch.value);
  expect(drag / (netMass.value * 9.80665)).toBeCloseTo(1, 2);
});

describe("attitude", () => {
  test("a balance of two weights, by hand", () => {
    const one = { name: "a", mass: 2e-3, volume: 0, at: 0.02, up: -0.01 };
    const two = { name: "b", mass: 3e-3, volume: 1e-6, at: 0.06, up: 0.005 };
    const { ahead, below, netMass } = balanceOf([one, two], 1000, 0.05);
    expect(netMass).toBeCloseTo(4e-3, 12);
    expect(ahead).toBeCloseTo(2e-3 * 0.03 - 2e-3 * 0.01, 12);
    expect(below).toBeCloseTo(2e-3 * 0.01 - 2e-3 * 0.005, 12);
  });

  test("a hook at the head turns the nose down, at the tail up; above the axis it rolls", () => {
    const hook = (at: number, below: number) =>
      bar(`swim: { hook: { mass: 2 g, at: ${at} mm, below: ${below} mm } }`);
    expect(hook(15, 6).pitch.value).toBeGreaterThan(0.1);
    expect(hook(85, 6).pitch.value).toBeCloseTo(-hook(15, 6).pitch.value, 6);
    // the lower it hangs, the more level it holds the bait
    expect(hook(15, 12).pitch.value).toBeLessThan(hook(15, 3).pitch.value);
    expect(hook(50, 6)).toMatchObject({ upright: true });
    expect(hook(50, 6).pitch.value).toBeCloseTo(0, 3);
    expect(hook(50, -6).upright).toBe(false);
  });

  test("nose first it sinks faster than level", () => {
    const at = (mm: number) =>
      bar(`swim: { hook: { mass: 3 g, at: ${mm} mm, below: 1 mm } }`).speed.value;
    expect(at(5)).toBeGreaterThan(1.1 * at(50));
  });
});

test("salt sinks it faster, hollow spheres lift it, and the share at which it hovers does", () => {
  const { bySalt, byHollow, hovers } = bar();
  for (let i = 1; i < bySalt.length; i++)
    expect(bySalt[i]!.speed).toBeGreaterThan(bySalt[i - 1]!.speed);
  for (let i = 1; i < byHollow.length; i++)
    expect(byHollow[i]!.speed).toBeLessThan(byHollow[i - 1]!.speed);
  expect(hovers.salt).toBeNull();
  const hovering = bar(`swim: { hollow: ${(hovers.hollow! * 100).toFixed(3)} % }`);
  expect(Math.abs(hovering.netMass.value)).toBeLessThan(1e-5);
  expect(hovering.sinks).toBe("either");
  expect(bar("swim: { hollow: 8 % }")).toMatchObject({ sinks: "floats" });
});

test("hooks: the gap must take the body above the shank, and the clearance", () => {
  const { hooks } = bar(
    "swim: { hook: { name: a, mass: 1 g, gap: 9 mm, at: 40 mm }, clearance: 3 mm, otherHooks: [{ name: b, mass: 2 g, gap: 11.5 mm }, { name: c, mass: 3 g, gap: 15 mm }] }",
  );
  expect(hooks.inGap).toBeCloseTo(0.008, 6);
  expect(hooks.needed).toBeCloseTo(0.011, 6);
  expect(hooks.hooks.map(({ clears }) => clears)).toEqual([false, true, true]);
  expect([hooks.smallest, hooks.largest]).toEqual(["b", "c"]);
});

test("cautions of the step: lead, and what must be dry", () => {
  const { cautions } = swim(
    readJob("bait: { thickness: 9 mm }\nswim: { salt: 10 %, weights: [{ mass: 1 g }] }").job,
  );
  expect(cautions).toEqual(["lead_weights", "damp_additives"]);
});

test("a bait weighs in the water's answer what its shape's says, range and all", () => {
  for (const bait of [
    "{ thickness: 16 mm }",
    "{ length: 110 mm, stations: [{ name: head, at: 15 mm, width: 12 mm, height: 14 mm }, { name: belly, at: 45 mm, width: 15 mm, height: 18 mm }, { name: stem, at: 90 mm, width: 4 mm, height: 5 mm }] }",
  ]) {
    const { job } = readJob(`{ bait: ${bait} }`);
    const [shaped, swims] = [
      shape(job).answer,
      swim({ ...job, swim: { ...job.swim, hook: null, weights: [] } }).answer,
    ];
    for (const key of ["mass", "volume"] as const)
      for (const end of ["value", "low", "high"] as const)
        expect(swims[key][end] / shaped[key][end], `${key} ${end}`).toBeCloseTo(1, 2);
  }
});

describe("what can't be", () => {
  const codeOf = (more: string) => {
    try {
      bar(more);
    } catch (error) {
      if (error instanceof InputError) return error.problems.map(({ code, path }) => [path, code]);
      throw error;
    }
    return [];
  };
  test("a hook or a weight beyond the tail; at the tail it can", () => {
    expect(codeOf("swim: { hook: { at: 101 mm, mass: 5 g } }")).toEqual([
      ["swim.hook.at", "outside_bait"],
    ]);
    expect(codeOf("swim: { hook: { at: 100 mm, mass: 5 g } }")).toEqual([]);
    expect(
      codeOf("swim: { weights: [{ at: 20 mm, mass: 1 g }, { at: 120 mm, mass: 1 g }] }"),
    ).toEqual([["swim.weights[1].at", "outside_bait"]]);
  });
  test("salt and spheres that leave too little plastic", () => {
    expect(codeOf("swim: { salt: 60 %, hollow: 30 % }")).toEqual([
      ["swim.salt", "too_much_stirred_in"],
    ]);
    expect(codeOf("swim: { salt: 60 %, hollow: 20 % }")).toEqual([]);
  });
});
