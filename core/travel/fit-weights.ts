import type { Grid } from '../grid/frame.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { type WeightKey, type Weights, weightsOf } from './assumptions.ts';
import { coarseResistance, factorFor } from './coarsen.ts';
import { type FitInputs, passageUnder } from './passage-under.ts';
import { blockedMean, blocksOf, type SeenSpot } from './sight-blocks.ts';
import { isInTopTenth, logScores, ranksAt, type Sighting, scoreSightings } from './sightings.ts';
import { TRIAL_CELLS } from './trials.ts';
import { PARTS, payingSteps, singleSteps, stepped } from './weight-search.ts';

export interface FitOptions {
  seed: number;
  /** Assumptions the user set, which are left as they are. */
  kept: ReadonlySet<string>;
}

/** How well a passage foretells the sightings, on the grid of the trials. */
interface FitScore {
  areaUnderCurve: number;
  inTopTenth: number;
}

export interface WeightFit {
  outcome: 'offered' | 'too few' | 'by luck' | 'no better';
  /** Spots seen on known ground, and squares of ground they lie in. */
  seen: number;
  blocks: number;
  /** Under the weights in force, and under what was found; null where nothing was solved or found. */
  usual: FitScore | null;
  fitted: FitScore | null;
  /**
   * On sightings that the choice was made without: by how much the mean logarithm of how likely a deer is seen there
   * grows, and the standard error of that; null where nothing was solved.
   */
  heldOut: { gain: number; error: number } | null;
  changes: { key: WeightKey; from: number; to: number }[];
}

/** Choices of ours. Fewer spots, or spots on fewer squares, say too little about so many weights. */
export const LEAST_SPOTS = 30;
export const LEAST_BLOCKS = 10;
/** Side of the squares that are held out together, m: wider than the band that one trail is seen along. */
export const BLOCK = 150;
const FOLDS = 5;
/** A gain counts beyond this many of its standard errors: by luck alone about one in twenty does. */
export const ERRORS = 1.64;
/** Flow that chance equals more often than this foretells nothing that weights could be fitted to. */
const BY_LUCK = 0.05;

/**
 * Weights fitted to sightings, offered only when they foretell sightings they were not chosen by. Every assumption is
 * moved by itself to either end of its range and the flow solved again on the trials' grid; those that gain more than
 * their standard error are moved together, half the way and all of it. That whole choice is made again without each
 * fifth of the ground in turn (nested cross-validation: Stone 1974; in spatial blocks: Roberts et al. 2017), and what
 * it gains over the weights in force is measured there, by the logarithmic score. Deer seen over and over at one spot
 * count by the root of their number (our assumption).
 *
 * @param passages passage under weights on the trials' grid, where it is kept from one fit to the next
 */
export function fitWeights(
  inputs: FitInputs,
  sightings: readonly Sighting[],
  { seed, kept }: FitOptions,
  progress: Progress = silent,
  passages: ((weights: Weights) => Grid) | null = null,
): WeightFit {
  const usual = weightsOf(inputs.assumptions);
  const factor = factorFor(inputs.resistance.frame, TRIAL_CELLS);
  const seen = onKnownGround(coarseResistance(inputs.resistance, factor), sightings);
  const places = seen.map(({ at }) => at);
  const spots: SeenSpot[] = seen.map(({ at, count }) => ({ at, weight: Math.sqrt(count) }));
  const { block, fold, folds } = blocksOf(spots, BLOCK, FOLDS, seed);
  const facts = { seen: spots.length, blocks: fold.length };
  if (facts.seen < LEAST_SPOTS || facts.blocks < LEAST_BLOCKS || inputs.pairs.length === 0)
    return { outcome: 'too few', ...facts, usual: null, fitted: null, heldOut: null, changes: [] };

  const under = passages ?? passageUnder(inputs, factor);
  const scoresUnder = (weights: Weights): Float64Array => logScores(under(weights), places);
  const usualScores = scoresUnder(usual);
  const free = inputs.assumptions.filter(({ key }) => !kept.has(key));
  const steps = singleSteps(free);
  const stepping = part(progress, 0, 0.85);
  const alone = steps.map((step, k) => {
    stepping(k / steps.length);
    return scoresUnder(stepped(free, usual, [step], 1));
  });

  /** The weights that the sightings among some spots would have. */
  const chosenBy = (isAmong: (spot: number) => boolean): Weights => {
    const among = [...spots.keys()].filter(isAmong);
    const gainOf = (scores: Float64Array) => blockedMean(minus(scores, usualScores), spots, block, among);
    const paying = payingSteps(steps, alone.map(gainOf));
    let best = { weights: usual, gain: 0 };
    for (const share of paying.length > 0 ? PARTS : []) {
      const weights = stepped(free, usual, paying, share);
      const gain = gainOf(scoresUnder(weights)).mean;
      if (gain > best.gain) best = { weights, gain };
    }
    return best.weights;
  };
  const heldScores = new Float64Array(spots.length);
  for (let out = 0; out < folds; out++) {
    progress(0.85 + (0.12 * out) / folds);
    const isHeld = (spot: number): boolean => fold[block[spot]!] === out;
    const scores = scoresUnder(chosenBy((spot) => !isHeld(spot)));
    for (let i = 0; i < spots.length; i++) if (isHeld(i)) heldScores[i] = scores[i]!;
  }
  progress(0.97);
  const chosen = chosenBy(() => true);
  const changes = free.flatMap((row) => {
    const key = row.key as WeightKey;
    return chosen[key] === row.value ? [] : [{ key, from: row.value, to: chosen[key] }];
  });
  progress(1);

  const scoreOf = (passage: Grid): FitScore => {
    const ranks = ranksAt(passage, places);
    const top = ranks.map((rank) => Number(isInTopTenth(rank)));
    return {
      areaUnderCurve: blockedMean(ranks, spots, block).mean,
      inTopTenth: blockedMean(top, spots, block).mean,
    };
  };
  const { mean: gain, error } = blockedMean(minus(heldScores, usualScores), spots, block);
  const byLuck = Math.min(
    ...[usual, chosen].map((weights) => scoreSightings(under(weights), seen, seed).byLuck),
  );
  const isBetter = changes.length > 0 && gain > ERRORS * error;
  return {
    outcome: byLuck > BY_LUCK ? 'by luck' : isBetter ? 'offered' : 'no better',
    ...facts,
    usual: scoreOf(under(usual)),
    fitted: changes.length > 0 ? scoreOf(under(chosen)) : null,
    heldOut: { gain, error },
    changes,
  };
}

/** Sightings on the ground that travel is computed on. */
function onKnownGround(ground: Grid, sightings: readonly Sighting[]): Sighting[] {
  const ranks = ranksAt(
    ground,
    sightings.map(({ at }) => at),
  );
  return sightings.filter((_, i) => !Number.isNaN(ranks[i]!));
}

const minus = (a: Float64Array, b: Float64Array): Float64Array => a.map((value, i) => value - b[i]!);
