import { expect, test } from "vitest";
import { deepestBelow } from "../../../../lib/models/pour/depth.ts";

/** A pour that runs away at a depth within walls which leave about `share` of it far from them. */
const pour = (cliff: number, share: number, steep: number, limit: number) => {
  const far = (line: number) => {
    const of = line / (share * cliff);
    return 20 * of + 160 / (1 + of ** -steep);
  };
  const left = (depth: number) => share * (0.6 + 0.4 * Math.min(1, depth / cliff));
  let [line, over] = [0, cliff];
  for (let i = 0; i < 60; i++) {
    const middle = (line + over) / 2;
    if (far(middle) < limit) line = middle;
    else over = middle;
  }
  return (depth: number) => {
    const hot = far(left(depth) * depth);
    // past the runaway it is as hot as far from walls: nothing is seen of what they take
    const seen = hot > 150 ? 1 : left(depth);
    return { rise: Math.log(hot / limit), next: line / seen, share: seen };
  };
};

test("the deepest that holds is found from any start, past a runaway, too", () => {
  let [all, cases] = [0, 0];
  for (const cliff of [0.006, 0.02, 0.05])
    for (const share of [0.3, 0.7, 1])
      for (const steep of [3, 8, 20])
        for (const start of [0.2, 0.9, 1.5, 4]) {
          const lookAt = pour(cliff, share, steep, 60);
          let looks = 0;
          const { depth } = deepestBelow((d) => {
            looks += 1;
            return lookAt(d);
          }, start * cliff);
          const where = `cliff ${cliff}, share ${share}, steep ${steep}, start ${start}: ${depth} in ${looks}`;
          expect(lookAt(depth!).rise, where).toBeLessThanOrEqual(0);
          // a hundredth of the rise, or a depth and a half hundredth
          expect(lookAt(1.02 * depth!).rise, where).toBeGreaterThan(-0.01);
          expect(looks, where).toBeLessThanOrEqual(12);
          all += looks;
          cases += 1;
        }
  // each is a simulation of the cut across the box: a regression of their number
  expect(all / cases).toBeLessThan(3.76);
});

test("nothing holds, or all that is looked at does", () => {
  expect(deepestBelow(() => ({ rise: 1, next: 0, share: 1 }), 0.02).depth).toBe(0);
  const never = { rise: -1, next: Number.POSITIVE_INFINITY, share: 1 };
  expect(deepestBelow(() => never, 0.02).depth).toBeNull();
});
