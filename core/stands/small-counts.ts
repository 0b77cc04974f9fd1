/** Exact tests for counts too small for approximations. */

const logFactorials: number[] = [0];
function logFactorial(n: number): number {
  for (let k = logFactorials.length; k <= n; k++) logFactorials[k] = logFactorials[k - 1]! + Math.log(k);
  return logFactorials[n]!;
}

const logChoose = (n: number, k: number): number =>
  k < 0 || k > n ? Number.NEGATIVE_INFINITY : logFactorial(n) - logFactorial(k) - logFactorial(n - k);

/** Probabilities this near count as equal. */
const NEAR = 1 + 1e-7;

/** Of the outcomes with their probabilities, the chance of one no likelier than what came. */
function noLikelier(chances: readonly number[], came: number): number {
  const limit = chances[came]! * NEAR;
  return Math.min(
    1,
    chances.reduce((sum, chance) => (chance <= limit ? sum + chance : sum), 0),
  );
}

/**
 * Exact test of how many of some trials came out, each with its own chance: the two-sided p, the chance of a count no
 * likelier than the one that came (Poisson binomial distribution by convolution; with equal chances the binomial test).
 *
 * @param chances of each trial, 0..1
 */
export function countTest(came: number, chances: readonly number[]): number {
  let known = [1];
  for (const chance of chances) {
    const next = new Array<number>(known.length + 1).fill(0);
    known.forEach((share, k) => {
      next[k]! += share * (1 - chance);
      next[k + 1]! += share * chance;
    });
    known = next;
  }
  return noLikelier(known, came);
}

/**
 * Fisher's exact test of two shares (Fisher 1922; two-sided: all tables no likelier than the one seen).
 *
 * @param first,second how many of how many
 */
export function shareTest(first: readonly [number, number], second: readonly [number, number]): number {
  const [a, n] = first;
  const [b, m] = second;
  const drawn = a + b;
  const least = Math.max(0, drawn - m);
  const most = Math.min(n, drawn);
  const chances = Array.from({ length: most - least + 1 }, (_, k) =>
    Math.exp(logChoose(n, least + k) + logChoose(m, drawn - least - k) - logChoose(n + m, drawn)),
  );
  return noLikelier(chances, a - least);
}
