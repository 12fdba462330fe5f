import { expect, test } from "vitest";
import { demold, plan, readJob, shots, sprue } from "../../../../lib/index.ts";

const thin = (diameter: number) =>
  readJob(`bait: { thickness: 4 mm, length: 40 mm }
room: { temperature: 15 degC }
mold: { material: aluminum 6061, wall: 10 mm }
run: { session: 10 min, hands: 40 s }
sprue: { diameter: ${diameter} mm }`).job;

test("a thin bait behind a fat sprue waits for it: demold, shots and plan agree with sprue", () => {
  const job = thin(8);
  const closes = sprue(job).answer.closes;
  const bait = demold(job).answer;
  expect(bait.time.value).toBeLessThan(closes.low);
  // not before it has surely closed, and not for much longer
  expect(bait.sprueUntil).toBeGreaterThanOrEqual(0.97 * closes.high);
  expect(bait.sprueUntil).toBeLessThan(1.35 * closes.high);
  expect(shots(job).answer.sprueUntil).toBeGreaterThanOrEqual(bait.sprueUntil!);
  for (const { injected, mayOpen, likely, surely, opened } of plan(job).answer.shots)
    for (const at of [mayOpen, likely, surely, opened])
      expect(at - injected).toBeGreaterThanOrEqual(bait.sprueUntil! - 1e-6);
});

test("a sprue thinner than its bait holds nothing back", () => {
  const job = thin(2);
  const { time, sprueUntil } = demold(job).answer;
  expect(sprueUntil).toBeNull();
  const [first] = plan(job).answer.shots;
  expect(first!.likely - first!.injected).toBeCloseTo(time.value, 0);
});
