/** A linear forecast that learns case by case: where a search for the next case begins. */

interface Forecast {
  /** What is expected at these inputs; 0 before anything was learned. */
  at(inputs: readonly number[]): number;
  /** What was found there. */
  learn(inputs: readonly number[], found: number): void;
}

/**
 * A linear forecast without constant, for inputs of about unit size. Each case moves the slopes just so far that it is
 * met; cases that agree with one linear law are met by all after a few rounds.
 *
 * @source Kaczmarz, Angenäherte Auflösung von Systemen linearer Gleichungen, Bull. Int. Acad. Polon. Sci. A 35 (1937)
 * 355, from memory
 * @example (() => { const f = makeForecast(2); f.learn([1, 0], 3); return f.at([2, 5]); })() // 6
 */
export function makeForecast(inputs: number): Forecast {
  const slopes = new Float64Array(inputs);
  const at = (x: readonly number[]) => x.reduce((sum, one, i) => sum + one * slopes[i], 0);
  return {
    at,
    learn(x, found) {
      const size = x.reduce((sum, one) => sum + one * one, 0);
      if (!(size > 0)) return;
      const by = (found - at(x)) / size;
      x.forEach((one, i) => {
        slopes[i] += by * one;
      });
    },
  };
}
