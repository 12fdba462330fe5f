import { expect, test } from "vitest";
import { eveningStep, eveningTime } from "../../src/messages/evening-clock.ts";

test("three times of one moment stay in their order, whatever their step", () => {
  for (const wait of [18, 55, 144, 700, 5000]) {
    const step = eveningStep([{ injected: 100, likely: 100 + wait }]);
    // as fine as a twentieth of the wait, no coarser than hands go
    expect(step).toBeLessThanOrEqual(Math.max(1, Math.min(15, wait / 20)));
    for (let at = 160; at < 190; at += 0.37) {
      const [earliest, likely, surely] = [at, at + 0.4, at + 7].map((s) =>
        eveningTime(s, step, true),
      );
      expect(earliest).toBeGreaterThanOrEqual(at);
      expect(likely).toBeGreaterThanOrEqual(earliest!);
      expect(surely).toBeGreaterThanOrEqual(likely!);
      // never a whole step too late
      expect(earliest! - at).toBeLessThan(step + 1e-9);
    }
  }
  expect(eveningStep([])).toBe(15);
});
