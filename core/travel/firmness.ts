import type { Weights } from './assumptions.ts';
import { type Pinch, scoreOf } from './pinch.ts';
import type { Trial, Trials } from './trials.ts';
import type { Assumption, Spread } from './types.ts';

/** A neck is firm only among this many in every trial. */
const TOP = 10;
/** … and while its share keeps this part of itself. */
const FIRM_PART = 0.5;
/** Too few runs tell the weights apart. */
const LEAST_RUNS = 30;
const LEAST_CORRELATION = 0.5;

export interface Firmness {
  spread: Spread;
  firm: boolean;
  /** What takes the neck out of the best or halves its share, as ends of "… when"; empty when nothing does. */
  lostWhen: string[];
  /** It falls back or halves when the edge of the data is moved. */
  edgeArtefact: boolean;
  /** The assumption its share follows most closely over the runs; null when none stands out or runs are few. */
  movedBy: string | null;
}

/**
 * How sure each pinch is, which are the first of what the trials measured. Trials run on a coarser grid; each share is corrected by what its grid gives for the
 * usual weights. The spread is over the drawn weights; firmness also asks the changes of the model.
 */
export function judgeFirmness(
  pinches: readonly Pinch[],
  trials: Trials,
  assumptions: readonly Assumption[],
): Firmness[] {
  const { usual, usualOfChanges, list } = trials;
  const corrected = list.map(({ weights, shares }) =>
    pinches.map((pinch, k) => correctedBy(pinch.share, (weights ? usual : usualOfChanges)[k]!, shares[k]!)),
  );
  const ranks = corrected.map((shares) =>
    ranksOf(shares.map((share, k) => scoreOf(share, pinches[k]!.width))),
  );
  const drawn = list.flatMap(({ weights }, t) => (weights ? [t] : []));

  return pinches.map((pinch, k) => {
    const runs = drawn.map((t) => corrected[t]![k]!);
    // One that is not among the best has no such place to lose.
    const lost = list.filter(
      ({ ranksOnly }, t) =>
        (k < TOP && ranks[t]![k]! >= TOP) || (!ranksOnly && corrected[t]![k]! < FIRM_PART * pinch.share),
    );
    const losses = lost.map(({ change }) => change ?? 'the uncertain weights turn');
    if (list.length > 0 && usualOfChanges[k]! < FIRM_PART * pinch.share)
      losses.push('the cells are twice as wide');
    const edgeArtefact = lost.some(({ margin }) => margin);
    return {
      spread: spreadOf(pinch.share, k, trials),
      firm: runs.length > 0 && k < TOP && losses.length === 0,
      lostWhen: [...new Set(losses)],
      edgeArtefact,
      movedBy:
        runs.length >= LEAST_RUNS
          ? strongest(
              runs,
              drawn.map((t) => list[t] as Trial & { weights: Weights }),
              assumptions,
            )
          : null,
    };
  });
}

/** A share as a trial has it, corrected by what the trials' grid gives for the usual weights. */
const correctedBy = (share: number, usual: number, tried: number): number =>
  usual > 0 ? Math.min(1, (share * tried) / usual) : tried;

/** The spread of one of the shares the trials measured, over the drawn weights. */
export function spreadOf(share: number, measure: number, { usual, list }: Trials): Spread {
  const runs = list.flatMap(({ weights, shares }) =>
    weights ? [correctedBy(share, usual[measure]!, shares[measure]!)] : [],
  );
  return { low: Math.min(share, ...runs), high: Math.max(share, ...runs), runs: runs.length };
}

/** What moves one of the shares the trials measured most over the drawn weights; null with few runs or where none does. */
export function movedMost(
  measure: number,
  list: readonly Trial[],
  assumptions: readonly Assumption[],
): string | null {
  const drawn = list.filter((trial): trial is Trial & { weights: Weights } => trial.weights !== null);
  if (drawn.length < LEAST_RUNS) return null;
  return strongest(
    drawn.map(({ shares }) => shares[measure]!),
    drawn,
    assumptions,
  );
}

/** Place of every score, the best 0. */
function ranksOf(scores: readonly number[]): number[] {
  const ranks: number[] = [];
  scores
    .map((_, k) => k)
    .sort((a, b) => scores[b]! - scores[a]! || a - b)
    .forEach((k, rank) => {
      ranks[k] = rank;
    });
  return ranks;
}

/** Label of the assumption whose drawn values rank most like the shares (Spearman's correlation), or null. */
function strongest(
  shares: readonly number[],
  trials: readonly { weights: Weights }[],
  assumptions: readonly Assumption[],
): string | null {
  const shareRanks = ranksOf(shares);
  let best: string | null = null;
  let most = LEAST_CORRELATION;
  for (const { key, label, low, high } of assumptions) {
    if (low === high) continue;
    const ranks = ranksOf(trials.map(({ weights }) => weights[key as keyof Weights]));
    const n = ranks.length;
    const squares = ranks.reduce((sum, rank, i) => sum + (rank - shareRanks[i]!) ** 2, 0);
    const correlation = Math.abs(1 - (6 * squares) / (n * (n * n - 1)));
    if (correlation > most) {
      most = correlation;
      best = label;
    }
  }
  return best;
}
