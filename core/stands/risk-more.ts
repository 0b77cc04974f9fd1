import { carryFrom, type NightAir } from '../air/carry.ts';
import type { SeasonWind } from '../air/season.ts';
import { SECTORS } from '../air/types.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import { pathsOf } from '../features/shapes.ts';
import { formatLength, formatShare, type Units } from '../features/units.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import { footOn } from '../travel/barriers.ts';
import type { TravelArea } from '../travel/types.ts';

/** A drawn way that comes so near to a stand leads to it, m: our assumption. */
const LEADS = 60;
/** A walker's scent is followed from every so many metres of the way, and so far down the drainage, m: our assumption. */
const EVERY = 20;
const DRAGGED = 300;
/** Ways of scent farther apart than this are opposite, degrees: our assumption. */
const OPPOSITE = 100;

/** A way to a stand whose scent drains into bedding on a still night or at dawn. */
export interface Drag {
  way: string;
  bedding: string[];
  /** Length of the way from which it does, m. */
  length: number;
}

/** Ways that lead to a spot and drag scent through bedding in the night's drainage, the worst first. */
export function approachDrags(
  at: Point,
  features: readonly Feature[],
  air: NightAir,
  { areas, travelAreas }: { areas: Grid<Int32Array>; travelAreas: readonly TravelArea[] },
): Drag[] {
  const beds = new Map(travelAreas.flatMap(({ id, kind, name }) => (kind === 'bedding' ? [[id, name]] : [])));
  return ofKind(features, 'access', 'trail')
    .flatMap((way): Drag[] => {
      const paths = pathsOf(way.geometry).filter((path) => (footOn(path, at)?.distance ?? Infinity) <= LEADS);
      const spots = paths.flatMap((path) => [...along(path, EVERY)]);
      const met = new Set<string>();
      let length = 0;
      for (const spot of spots) {
        if (cellAt(areas.frame, ...spot) < 0) continue;
        const found = beddingAlong(carryFrom(spot, air).path, areas, beds);
        if (found.length > 0) length += EVERY;
        for (const name of found) met.add(name);
      }
      return length > 0 ? [{ way: way.name ?? `the ${way.kind}`, bedding: [...met], length }] : [];
    })
    .sort((a, b) => b.length - a.length);
}

function beddingAlong(
  path: readonly Point[],
  { frame, cells }: Grid<Int32Array>,
  beds: ReadonlyMap<number, string>,
): string[] {
  const met = new Set<string>();
  let gone = 0;
  for (const spot of along(path, frame.cellSize)) {
    const cell = cellAt(frame, ...spot);
    const bed = cell < 0 ? undefined : beds.get(cells[cell]!);
    if (bed !== undefined) met.add(bed);
    gone += frame.cellSize;
    if (gone > DRAGGED) break;
  }
  return [...met];
}

function* along(path: readonly Point[], step: number): Generator<Point> {
  for (let k = 1; k < path.length; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const pieces = Math.max(1, Math.round(Math.hypot(bx - ax, by - ay) / step));
    for (let p = 0; p < pieces; p++) yield [ax + ((bx - ax) * p) / pieces, ay + ((by - ay) * p) / pieces];
  }
}

/**
 * Whether scent turns round between the drainage of a still morning and the likeliest wind of the evening, and in what
 * share of the evening hours that wind blows; null where it does not, or one of them is not known.
 */
export function flipAt(
  at: Point,
  { airSpeed, airBearing }: Pick<NightAir, 'airSpeed' | 'airBearing'>,
  season: SeasonWind | null,
): { wind: string; share: number } | null {
  const cell = cellAt(airBearing.frame, ...at);
  const drains = cell < 0 || !(airSpeed.cells[cell]! >= 0.05) ? Number.NaN : airBearing.cells[cell]!;
  const evening = season?.parts.find(({ part }) => part === 'evening');
  if (Number.isNaN(drains) || !evening || evening.total === 0) return null;
  const most = evening.sectors.reduce(
    (best, { hours }, k) => (hours > evening.sectors[best]!.hours ? k : best),
    0,
  );
  const share = evening.sectors[most]!.share.share;
  if (!share) return null;
  const towards = most * 22.5 - airBearing.frame.convergence + 180;
  const apart = Math.abs(((((towards - drains + 180) % 360) + 360) % 360) - 180);
  return apart > OPPOSITE ? { wind: SECTORS[most]!, share } : null;
}

/** Both as sentences. */
export function moreReasons(drags: readonly Drag[], flip: ReturnType<typeof flipAt>, units: Units): string[] {
  return [
    ...drags.map(
      ({ way, bedding, length }) =>
        `The way in by ${way} drags scent through bedding (${bedding.join(', ')}) on a still night or dawn, from ${formatLength(length, units)} of it.`,
    ),
    ...(flip
      ? [
          `It flips: the drainage of a still morning and the likeliest evening wind, from ${flip.wind} (${formatShare(flip.share)} of the hours), carry scent opposite ways.`,
        ]
      : []),
  ];
}
