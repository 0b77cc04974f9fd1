import { COVER } from '../cover/types.ts';
import type { Feature } from '../features/feature.ts';
import { compassWord } from '../features/units.ts';
import { bearingOf } from '../grid/bearing.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import type { Firmness } from './firmness.ts';
import type { Flow } from './flow.ts';
import { type LandmarkSources, landmarksAt, landmarksOf } from './landmarks.ts';
import { boundaryRings, ownerOf } from './owner.ts';
import type { Pinch } from './pinch.ts';
import type { Neck, NeckPlace, TravelArea } from './types.ts';

const LEAST_PAIR_SHARE = 0.05;

export interface NeckSources extends LandmarkSources {
  features: readonly Feature[];
  cover: Grid<Uint8Array>;
  resistance: Grid;
  areas: readonly TravelArea[];
}

/** Where necks lie and on whose ground, before it is known how sure they are; pinches in the order of their ranks. */
export function neckPlaces(flow: Flow, pinches: readonly Pinch[], features: readonly Feature[]): NeckPlace[] {
  const rings = boundaryRings(features);
  return pinches.map(({ line, at }, k) => ({
    id: `neck-${k + 1}`,
    line,
    owner: ownerOf(rings, [line[0], at, line[1]], flow.frame.cellSize / 2),
  }));
}

/** Names pinches: rank, spread, owner, landmarks and reasons. `firmness` and `redundancy` in their order. */
export function describeNecks(
  flow: Flow,
  pinches: readonly Pinch[],
  firmness: readonly Firmness[],
  redundancy: readonly number[],
  sources: NeckSources,
  most: number,
): Neck[] {
  const marks = landmarksOf(sources);
  const shown = pinches.slice(0, most);
  const places = neckPlaces(flow, shown, sources.features);
  const names = new Map(sources.areas.map(({ id, name }) => [id, name]));

  return shown.map((pinch, k) => {
    const { spread, firm, edgeArtefact } = firmness[k]!;
    const pairs = flow.pairs
      .map(({ pair: { from, to, share } }, p) => ({
        from: names.get(from) ?? '',
        to: names.get(to) ?? '',
        share: pinch.pairs[p]!,
        weighted: share * pinch.pairs[p]!,
      }))
      .filter(({ share }) => share >= LEAST_PAIR_SHARE)
      .sort((a, b) => b.weighted - a.weighted)
      .map(({ from, to, share }) => ({ from, to, share }));
    const landmarks = landmarksAt(pinch.line, marks, sources, sources.resistance.frame.cellSize);
    return {
      ...places[k]!,
      rank: k + 1,
      at: pinch.at,
      width: pinch.width,
      share: pinch.share,
      spread,
      firm,
      edgeArtefact,
      redundancy: redundancy[k]!,
      pairs,
      landmarks,
      reasons: reasonsFor(pinch, pairs, landmarks, firmness[k]!, redundancy[k]!, sources),
    };
  });
}

const percent = (share: number): string => `${Math.round(share * 100)}%`;

const GROUND: Record<number, string> = {
  [COVER.open]: 'open ground',
  [COVER.brush]: 'brush',
  [COVER.deciduous]: 'timber',
  [COVER.evergreen]: 'evergreens',
  [COVER.wet]: 'wet ground',
  [COVER.water]: 'water',
  [COVER.built]: 'built-up ground',
};

function reasonsFor(
  pinch: Pinch,
  pairs: readonly { from: string; to: string; share: number }[],
  landmarks: readonly string[],
  { spread, firm, lostWhen, edgeArtefact, movedBy }: Firmness,
  redundancy: number,
  sources: NeckSources,
): string[] {
  const reasons = [`${percent(pinch.share)} of all travel passes here on balance.`];
  const top = pairs[0];
  if (top) reasons.push(`${percent(top.share)} of the travel between ${top.from} and ${top.to}.`);
  const sides = besideLine(pinch, sources);
  if (sides) reasons.push(sides);
  if (landmarks.length > 0) reasons.push(`It falls on: ${landmarks.join(', ')}.`);
  reasons.push(
    redundancy < 0.1
      ? 'Close it and next to none of its travel finds a way round.'
      : `Close it and ${percent(redundancy)} of its travel finds a way round.`,
  );
  if (spread.runs === 0) return reasons;
  const band = `${percent(spread.low)} to ${percent(spread.high)}`;
  if (firm)
    reasons.push(`Stays among the ten best whatever is changed (${band} over the uncertain weights).`);
  else if (lostWhen.length > 0)
    reasons.push(`Falls back or halves when ${lostWhen.join(', and when ')} (${band} over the weights).`);
  else reasons.push(`Not among the ten best (${band} over the uncertain weights).`);
  if (edgeArtefact)
    reasons.push(
      'It hangs on where the data end: take it for an artefact of the map’s edge until data beyond it say otherwise.',
    );
  if (movedBy) reasons.push(`What moves it most: “${movedBy}”.`);
  return reasons;
}

/** What makes the ground beside the line dearer than the ground on it, or null when nothing plain does. */
function besideLine({ at, line }: Pinch, { cover, resistance }: NeckSources): string | null {
  const here = meanResistance(resistance, [at]);
  const sides = line.map((end) => {
    const reach = 1.3;
    const beyond: Point[] = [1, reach, 1.6, 2].map((t) => [
      at[0] + (end[0] - at[0]) * t,
      at[1] + (end[1] - at[1]) * t,
    ]);
    if (!(meanResistance(resistance, beyond) > 1.3 * here)) return null;
    const votes = new Map<number, number>();
    for (const [x, y] of beyond) {
      const cell = cellAt(cover.frame, x, y);
      const code = cell >= 0 ? cover.cells[cell]! : 0;
      votes.set(code, (votes.get(code) ?? 0) + 1);
    }
    const [code] = [...votes].sort((a, b) => b[1] - a[1])[0]!;
    return `${GROUND[code] ?? 'harder ground'} to the ${compassWord(bearingOf(end[0] - at[0], end[1] - at[1]))}`;
  });
  const named = sides.filter((side) => side !== null);
  return named.length > 0 ? `Held in by ${named.join(' and ')}.` : null;
}

function meanResistance({ frame, cells }: Grid, points: readonly Point[]): number {
  let sum = 0;
  let count = 0;
  for (const [x, y] of points) {
    const cell = cellAt(frame, x, y);
    if (cell >= 0 && !Number.isNaN(cells[cell]!)) {
      sum += cells[cell]!;
      count++;
    }
  }
  return count > 0 ? sum / count : Number.NaN;
}
