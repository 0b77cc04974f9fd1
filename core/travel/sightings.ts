import { type Feature, ofKind } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import { seededRandom } from '../grid/random.ts';

/** Where sign or deer were seen. */
export interface Sighting {
  at: Point;
  /** Deer or tracks counted there, at least 1. */
  count: number;
}

interface SightingScore {
  /** Sightings on the map's passable ground. */
  seen: number;
  /** Chance that a sighting lies on more passage than a spot drawn at random: 0.5 is luck, 1 perfect. */
  areaUnderCurve: number;
  /** Share of the sightings in the tenth of the ground with most passage; luck gives 0.1. */
  inTopTenth: number;
  /** Share of random draws of as many spots that do as well; small means it is not luck. */
  byLuck: number;
  /** Plain words: how far this can be trusted. */
  verdict: string;
}

/** Fewer sightings than this say little. Our assumption. */
const TOO_FEW = 15;
/** The tenth of the ground with most passage begins at this rank. */
const TOP_TENTH = 0.9;
const DRAWS = 999;

/**
 * How much better than chance passage predicts sightings: area under the receiver operating curve against all
 * passable cells (the rank-sum of Mann & Whitney 1947, ties counted half), and how many random sets of as many
 * spots do as well (a seeded permutation test). Sightings are where people looked, so ground nobody walks drags the
 * score down or up; the verdict says so.
 */
export function scoreSightings(passage: Grid, sightings: readonly Sighting[], seed = 1): SightingScore {
  const ranks = ranksOf(passage);
  const places = sightings.flatMap(({ at, count }) => {
    const rank = rankAt(passage, ranks.share, at);
    return Number.isNaN(rank) ? [] : [{ rank, count: Math.max(1, count) }];
  });
  const total = places.reduce((sum, { count }) => sum + count, 0);
  if (places.length === 0)
    return {
      seen: 0,
      areaUnderCurve: Number.NaN,
      inTopTenth: Number.NaN,
      byLuck: Number.NaN,
      verdict: 'None of the sightings lies on the map.',
    };
  const mean = places.reduce((sum, { rank, count }) => sum + rank * count, 0) / total;
  const inTopTenth =
    places.reduce((sum, { rank, count }) => sum + (isInTopTenth(rank) ? count : 0), 0) / total;
  const random = seededRandom(seed);
  let asGood = 0;
  for (let draw = 0; draw < DRAWS; draw++) {
    let sum = 0;
    for (const { count } of places)
      sum += count * ranks.share[ranks.known[Math.floor(random() * ranks.known.length)]!]!;
    if (sum / total >= mean) asGood++;
  }
  const byLuck = (asGood + 1) / (DRAWS + 1);
  return {
    seen: places.length,
    areaUnderCurve: mean,
    inTopTenth,
    byLuck,
    verdict: verdictOf(places.length, mean, byLuck),
  };
}

function verdictOf(seen: number, areaUnderCurve: number, byLuck: number): string {
  if (seen < TOO_FEW) return `Too few to say: ${seen} sightings, at least ${TOO_FEW} are needed.`;
  if (byLuck > 0.05) return 'The sightings fall no better than luck would have it.';
  return areaUnderCurve >= 0.7
    ? 'The sightings fall where travel was computed, far better than by luck. They come from where people looked.'
    : 'The sightings fall somewhat better than by luck. They come from where people looked.';
}

/** What an area under the curve is the mean of; NaN off the map and where nothing is known. */
function rankAt({ frame }: Grid, share: Float64Array, at: Point): number {
  const cell = cellAt(frame, at[0], at[1]);
  return cell >= 0 ? share[cell]! : Number.NaN;
}

/** Share of the known ground with less passage than each spot has, half of that with as much; NaN where unknown. */
export function ranksAt(passage: Grid, spots: readonly Point[]): Float64Array {
  const { share } = ranksOf(passage);
  return Float64Array.from(spots, (at) => rankAt(passage, share, at));
}

/** Part of the sightings that may fall anywhere, whatever travel does. Our assumption. */
const ANYWHERE = 0.1;

/**
 * Logarithmic score of each spot (Good 1952): how much likelier a deer is seen there when sightings fall as passage
 * does than when they fall anywhere, as a natural logarithm; its mean is highest for the passage they were drawn
 * from. NaN where the passage is unknown.
 */
export function logScores({ frame, cells }: Grid, spots: readonly Point[]): Float64Array {
  let [sum, known] = [0, 0];
  for (const share of cells) {
    if (Number.isNaN(share)) continue;
    sum += share;
    known++;
  }
  const mean = sum / known;
  return Float64Array.from(spots, ([x, y]) => {
    const cell = cellAt(frame, x, y);
    if (cell < 0) return Number.NaN;
    return Math.log(ANYWHERE + (mean > 0 ? ((1 - ANYWHERE) * cells[cell]!) / mean : 1 - ANYWHERE));
  });
}

/** Whether a rank lies in the tenth of the ground with most passage. */
export const isInTopTenth = (rank: number): boolean => rank >= TOP_TENTH;

/** For every known cell the share of known cells with less passage, half of those with as much. */
function ranksOf({ cells }: Grid): { share: Float64Array; known: Int32Array } {
  const known = Int32Array.from([...cells.keys()].filter((i) => !Number.isNaN(cells[i]!)));
  const values = Float32Array.from(known, (i) => cells[i]!).sort();
  const share = new Float64Array(cells.length).fill(Number.NaN);
  for (const i of known) {
    const below = lowerBound(values, cells[i]!, false);
    const upTo = lowerBound(values, cells[i]!, true);
    share[i] = (below + upTo) / 2 / known.length;
  }
  return { share, known };
}

/** How many sorted values lie below one, or up to and with it. */
function lowerBound(sorted: Float32Array, value: number, withEqual: boolean): number {
  let from = 0;
  let to = sorted.length;
  while (from < to) {
    const middle = (from + to) >> 1;
    if (sorted[middle]! < value || (withEqual && sorted[middle]! === value)) from = middle + 1;
    else to = middle;
  }
  return from;
}

/**
 * The sightings a person imported or drew: points of kind `sighting`, with a `count` where more were seen. A place
 * that was watched and showed none (a count of 0) is no sighting.
 */
export const sightingsOf = (features: readonly Feature[]): Sighting[] =>
  ofKind(features, 'sighting').flatMap(({ geometry, attributes: { count } }) => {
    const at = middleOf(geometry);
    if (!at || count === 0) return [];
    return [{ at, count: typeof count === 'number' && count >= 1 ? count : 1 }];
  });
