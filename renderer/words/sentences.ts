import type { Pool } from '../../core/air/types.ts';
import { capital, formatArea, formatLength, formatShare, type Units } from '../../core/features/units.ts';
import type { StandRisk } from '../../core/stands/types.ts';
import type { Bench, Saddle } from '../../core/terrain/types.ts';
import type { Crossing, Neck, Owner, Spread } from '../../core/travel/types.ts';

/** The findings as a person would write them in a field notebook. */

const OWNER: Record<Owner, string> = {
  inside: 'on your ground',
  'on the line': 'on the property line',
  neighbour: "on the neighbour's ground",
  unknown: 'whose ground is not known without a boundary',
};
export const ownerWords = (owner: Owner): string => OWNER[owner];

/** A clause as a sentence: a capital where it starts with a plain word, a stop where there is none. */
export function sentence(clause: string): string {
  // A file name keeps its case: `notes.tif ends …` must not become another file.
  const first = clause.split(' ', 1)[0] ?? '';
  const start = /^[a-z]+$/.test(first) ? capital(clause) : clause;
  return /[.!?:]$/.test(start) ? start : `${start}.`;
}

/** `a`, `a and b`, `a, b and c`. */
export function list(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** `Saddle and inside corner, 46 yd across` */
export function neckTitle(neck: Pick<Neck, 'landmarks' | 'width'>, units: Units): string {
  const width = `${formatLength(neck.width, units)} across`;
  if (neck.landmarks.length === 0) return `A neck ${width}`;
  const name = list(neck.landmarks);
  return `${capital(name)}, ${width}`;
}

/** One sentence under that title: how much passes, whose ground, and whether it lasts. */
export function neckSentence(neck: Pick<Neck, 'share' | 'owner' | 'firm' | 'edgeArtefact'>): string {
  const passes = `${formatShare(neck.share)} of all travel squeezes through here, ${ownerWords(neck.owner)}.`;
  if (neck.edgeArtefact) return `${passes} The edge of the map may have made it.`;
  return neck.firm ? passes : `${passes} It does not hold in every run.`;
}

export function spreadWords(spread: Spread): string {
  if (spread.runs < 2) return 'Computed once, so its spread is not known.';
  return `From ${formatShare(spread.low)} to ${formatShare(spread.high)} over ${spread.runs} runs of the assumptions.`;
}

export const firmWords = (firm: boolean): string =>
  firm
    ? 'Firm: it stays among the best in every run of the assumptions.'
    : 'Not firm: it drops out when an assumption moves. Walk it before you build on it.';

const CROSSING: Record<Crossing['kind'], string> = {
  road: 'the road',
  railroad: 'the railroad',
  creek: 'the creek',
  fence: 'the fence',
  barricade: 'the barricade',
  'ownership line': 'the property line',
};

export function crossingSentence(crossing: Pick<Crossing, 'kind' | 'share' | 'owner' | 'corridors'>): string {
  const count = crossing.corridors.length;
  const how =
    count === 0
      ? 'here, spread out rather than along a corridor'
      : `here with ${count === 1 ? 'one corridor' : `${count} corridors`}`;
  const where = crossing.kind === 'ownership line' ? '' : `, ${ownerWords(crossing.owner)}`;
  return `${formatShare(crossing.share)} of all travel crosses ${CROSSING[crossing.kind] ?? crossing.kind} ${how}${where}.`;
}

export const LEVEL_WORDS: Record<StandRisk['level'], string> = {
  low: 'no trouble found',
  caution: 'take care',
  high: 'trouble',
  unknown: 'not known',
};

export function poolSentence(pool: Pick<Pool, 'depth' | 'area'>, units: Units): string {
  return `Still cold air up to ${formatLength(pool.depth, units, 'height')} deep over ${formatArea(pool.area, units)}, held behind a sill.`;
}

export function saddleSentence(saddle: Pick<Saddle, 'rise' | 'falls' | 'width'>, units: Units): string {
  const [a, b] = saddle.falls;
  const width = saddle.width === null ? '' : ` ${formatLength(saddle.width, units)} wide near the floor,`;
  return `A saddle${width} ${formatLength(saddle.rise, units, 'height')} below the lower top, falling ${formatLength(a, units, 'height')} and ${formatLength(b, units, 'height')} to its two sides.`;
}

export function benchSentence(
  bench: Pick<Bench, 'length' | 'width' | 'slopeAbove' | 'slopeBelow'>,
  units: Units,
): string {
  return `A bench ${formatLength(bench.length, units)} long and ${formatLength(bench.width, units)} wide, ${Math.round(bench.slopeAbove)}° above and ${Math.round(bench.slopeBelow)}° below.`;
}

/** The angle between grid and true north as a mapmaker says it. */
export function northWords(convergence: number): string {
  const size = Math.abs(convergence);
  if (size < 0.05) return 'Grid north is true north here.';
  return `True north lies ${size.toFixed(1)}° ${convergence > 0 ? 'left' : 'right'} of grid north.`;
}
