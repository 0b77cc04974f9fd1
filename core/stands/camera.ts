import { type Feature, ofKind } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import { formatLength, formatShare, type Units } from '../features/units.ts';
import type { Grid, Point } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import { factorFor } from '../travel/coarsen.ts';
import { movedMost } from '../travel/firmness.ts';
import type { PlanInputs } from '../travel/plan-travel.ts';
import { planPairs } from '../travel/plan-travel.ts';
import { type Measure, runTrials, sharesOf, TRIAL_CELLS, type Trial, usualTrial } from '../travel/trials.ts';
import type { Junction, Neck, Spread } from '../travel/types.ts';
import { shareWithin } from '../travel/what-if.ts';
import { away } from './site-ground.ts';
import { siteSpots } from './site-spots.ts';

/** A place where a camera would settle doubt. */
export interface CameraPlace {
  at: Point;
  /** Share of all travel that passes before it, and over the plausible weights. */
  share: number;
  spread: Spread;
  /** The stand, neck or junction it bears on, and how far off that is, m. */
  near: { name: string; distance: number };
  /** The assumption that moves the share most; null where none stands out. */
  movedBy: string | null;
  /** Days until the count tells the low end from the high one. */
  days: number;
  sentences: string[];
}

export interface CameraFound {
  places: CameraPlace[];
  /** Where a second camera counts something the plausible weights agree on; null where they agree nowhere. */
  beside: { at: Point; share: number; spread: Spread } | null;
  sentences: string[];
  doubts: string[];
}

/** A camera counts what passes within this of it, m: our assumption. */
const SEES = 15;
/** Runs over the plausible weights: enough to tell which of them moves a share. */
const RUNS = 32;
/** Places are looked at within this of a stand, neck or junction, m, and proposed this far apart: our choice. */
const NEAR = 120;
const APART = 100;
const MOST = 3;
/** Deer that pass anywhere on the property in a day, and longer than how many days no camera is left: our assumption. */
const PASSINGS = 30;
const MOST_DAYS = 90;
/** No fewer days than this, so that no single night decides: our assumption. */
const LEAST_DAYS = 7;
/** A share nobody doubts is told from at least this much travel: our choice. */
const LEAST_SURE = 0.03;

/**
 * Days until counts at two rates can be told apart. Counts are Poisson and their square roots spread alike, by a half
 * (Bartlett, "The square root transformation in analysis of variance", 1936; value from memory): the roots of a and b
 * times T must differ by twice 1.96 halves.
 *
 * @param low and @param high shares of all travel
 * @param passings deer a day over all
 */
export function daysToTell(low: number, high: number, passings: number): number {
  const apart = Math.sqrt(high * passings) - Math.sqrt(low * passings);
  return apart > 0 ? (1.96 / apart) ** 2 : Number.POSITIVE_INFINITY;
}

interface CameraInputs extends PlanInputs {
  cover: Grid<Uint8Array>;
  necks: readonly Neck[];
  junctions: readonly Junction[];
}

/**
 * Where a camera would settle most doubt: travel is solved anew under plausible weights, as for the necks, and on the
 * client's ground near stands, necks and junctions the places whose share differs most between those runs are told.
 * The same for the same seed.
 */
export function cameraPlaces(
  inputs: CameraInputs,
  { seed, units, runs = RUNS }: { seed: number; units: Units; runs?: number },
  progress: Progress = silent,
): CameraFound {
  const given = planPairs(inputs);
  const { flow, factor } = inputs.todayTravel;
  const marks = marksOf(inputs);
  const spots = siteSpots(inputs.cover, inputs.features, [], 'ground')
    .map(({ at }) => ({ at, near: nearest(marks, at) }))
    .filter(({ near }) => near && near.distance <= NEAR) as { at: Point; near: CameraPlace['near'] }[];
  const measures = spots.map(
    ({ at }): Measure =>
      (tried) =>
        shareWithin(tried, at, Math.max(SEES, tried.frame.cellSize)),
  );
  const trialFactor = Math.max(factor, factorFor(inputs.resistance.frame, TRIAL_CELLS));
  const usual = sharesOf(measures, usualTrial(given, flow, factor, trialFactor));
  const count = spots.length > 0 ? runs : 0;
  const list = runTrials(given, measures, factor, trialFactor, count, seed, progress);
  const measured = spots.map((spot, k) => {
    return { ...spot, share: usual[k]!, spread: spreadIn(list, usual[k]!, k), measure: k };
  });
  const places = doubtful(measured).map(({ measure, ...place }): CameraPlace => {
    const movedBy = movedMost(measure, list, inputs.assumptions);
    const { low, high } = place.spread;
    const days = Math.max(LEAST_DAYS, Math.ceil(daysToTell(low, high, PASSINGS)));
    return { ...place, movedBy, days, sentences: told({ ...place, movedBy, days }, units) };
  });
  const sure = measured
    .filter(({ share }) => share >= LEAST_SURE)
    .sort((a, b) => relative(a) - relative(b))[0];
  return {
    places,
    beside: sure ? { at: sure.at, share: sure.share, spread: sure.spread } : null,
    sentences:
      places.length > 0
        ? []
        : ['Nowhere near a stand, neck or junction does a camera tell plausible weights apart in a season.'],
    doubts: [
      `How many deer pass in a day is not known: ${PASSINGS} over the whole property is our assumption, and with half as many a camera runs twice as long.`,
      'A count tells a share of travel only beside another count: run the second camera where the weights agree, at the same time, and compare the two.',
      `A camera is taken to count what passes within ${formatLength(SEES, units)}; the spread is over the weights alone, not over what nobody thought of.`,
      'Ask before a camera goes up: local law may forbid one, or its pictures, near a line or in the season.',
    ],
  };
}

/** What four of five runs agree on: a count need not settle what one run in thirty says. */
function spreadIn(list: readonly Trial[], usual: number, measure: number): Spread {
  const runs = list
    .flatMap(({ weights, shares }) => (weights ? [shares[measure]!] : []))
    .sort((a, b) => a - b);
  if (runs.length === 0) return { low: usual, high: usual, runs: 0 };
  const at = (part: number): number => runs[Math.round(part * (runs.length - 1))]!;
  return { low: at(0.1), high: at(0.9), runs: runs.length };
}

const relative = ({ share, spread }: { share: number; spread: Spread }): number =>
  (spread.high - spread.low) / share;

/** The places whose share differs most, apart, as long as a camera can tell it within a season. */
function doubtful<P extends { at: Point; spread: Spread }>(measured: readonly P[]): P[] {
  const kept: P[] = [];
  const width = ({ spread }: P): number => spread.high - spread.low;
  for (const each of [...measured].sort((a, b) => width(b) - width(a) || a.at[0] - b.at[0])) {
    if (kept.length === MOST) break;
    const { low, high } = each.spread;
    if (daysToTell(low, high, PASSINGS) > MOST_DAYS) continue;
    if (kept.every(({ at }) => away(at, each.at) >= APART)) kept.push(each);
  }
  return kept;
}

function marksOf({ necks, junctions, features }: CameraInputs): { name: string; at: Point }[] {
  const stands = ofKind(features as Feature[], 'stand').flatMap(({ name, geometry }, k) => {
    const at = middleOf(geometry);
    return at ? [{ name: name ?? `Stand ${k + 1}`, at }] : [];
  });
  return [
    ...stands,
    ...necks.map(({ rank, at }) => ({ name: `neck ${rank}`, at })),
    ...junctions.map(({ rank, at }) => ({ name: `junction ${rank}`, at })),
  ];
}

function nearest(marks: readonly { name: string; at: Point }[], at: Point): CameraPlace['near'] | null {
  let best: CameraPlace['near'] | null = null;
  for (const mark of marks) {
    const distance = away(mark.at, at);
    if (!best || distance < best.distance) best = { name: mark.name, distance };
  }
  return best;
}

function told(
  { share, spread, near, movedBy, days }: Omit<CameraPlace, 'sentences' | 'at'>,
  units: Units,
): string[] {
  const { low, high } = spread;
  return [
    `${formatLength(near.distance, units)} from ${near.name}: ${formatShare(share)} of all travel passes here, but ${formatShare(low)} to ${formatShare(high)} in four of five runs over plausible weights.`,
    movedBy
      ? `It settles most of all: ${movedBy}.`
      : 'No single assumption stands out behind that; it settles which of them together are right.',
    `Run it ${days} days.`,
  ];
}
