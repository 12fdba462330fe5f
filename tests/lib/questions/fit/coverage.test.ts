import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readJob } from "../../../../lib/job/job.ts";
import { fit } from "../../../../lib/questions/fit/fit.ts";
import { probeLog, shopLog, truthOf } from "./synthetic.ts";

/** Long run: `COVERAGE=200 npx vitest run --config tools/vitest.config.ts --project node tests/lib/questions/fit/coverage`. */
const COUNT = Number(process.env["COVERAGE"] ?? 0);

test.skipIf(COUNT === 0)(
  "of ten invented shops, eight have their time in the range that their log claims",
  () => {
    const text = readFileSync(
      new URL("../../../../data/jobs/paddle-shad.yaml", import.meta.url),
      "utf8",
    );
    const { job } = readJob(text);
    const held = { shop: 0, probe: 0 };
    for (let n = 0; n < COUNT; n++) {
      const truth = truthOf(job, n + 3);
      const logs = {
        shop: { lines: shopLog(job, truth, 12, n) },
        probe: probeLog(truth, 40, 10, n),
      };
      for (const kind of ["shop", "probe"] as const) {
        const { value } = fit(job, logs[kind], { quick: true }).answer.means[0]!;
        if (value.low <= truth.demold && truth.demold <= value.high) held[kind]++;
      }
    }
    // three standard errors of a share of 0.8 around the 75 to 85 % that are asked for
    const slack = 3 * Math.sqrt(0.16 / COUNT);
    for (const share of [held.shop / COUNT, held.probe / COUNT]) {
      expect(share).toBeGreaterThan(0.75 - slack);
      expect(share).toBeLessThan(0.85 + slack);
    }
    console.info(`held of ${COUNT}: shop ${held.shop}, probe ${held.probe}`);
  },
  3_600_000,
);
