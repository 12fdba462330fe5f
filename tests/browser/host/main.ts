// A page with the runner and nothing else: tests reach it through `host`.

import { readPage } from "../../../src/notebook/page/page.ts";
import { withDial } from "../../../src/notebook/page/set-dial.ts";
import { PageRunner, type RunnerLimits } from "../../../src/notebook/run/runner-browser.ts";
import type { RunState } from "../../../src/notebook/run/types.ts";

let runner = new PageRunner();

/** The state at which the newest run ended. */
function ended(): Promise<RunState> {
  return new Promise((resolve) => {
    const unsubscribe = runner.subscribe((state) => {
      if (state.phase === "running") return;
      unsubscribe();
      resolve(state);
    });
  });
}

const host = {
  limits(limits: Partial<RunnerLimits>): void {
    runner.close();
    runner = new PageRunner(limits);
  },
  async run(text: string, jobText?: string): Promise<RunState> {
    const end = ended();
    runner.run({ page: readPage(text), ...(jobText !== undefined && { jobText }) });
    return await end;
  },
  /** Milliseconds from a dial's change to its result, for each value. */
  async turn(text: string, dial: string, values: string[], jobText?: string): Promise<number[]> {
    await host.run(text, jobText);
    const took: number[] = [];
    let now = text;
    for (const value of values) {
      now = withDial(readPage(now), dial, value);
      const began = performance.now();
      await host.run(now, jobText);
      took.push(performance.now() - began);
    }
    return took;
  },
  stop: () => runner.stop(),
  state: () => runner.state,
};

declare global {
  interface Window {
    host: typeof host;
  }
}
window.host = host;
